import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { kindNames } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../support/databases.ts';
import { actNumbered, does, tryTo } from '../support/doing.ts';

/** Everything written down, in one comparable value. */
async function wholeBook(on: Fresh): Promise<Record<string, unknown>> {
  const { answer } = await on.store.read(kindNames, async (facts) => {
    const tables: Record<string, unknown> = {};
    for (const kind of kindNames) {
      const rows = await facts.find(kind);
      if (rows.length > 0) tables[kind] = rows;
    }
    return tables;
  });
  return answer;
}

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`acts and stepping back on ${name}`, () => {
    let on: Fresh;
    beforeEach(async () => {
      on = await fresh();
    });
    afterEach(() => on.end());
    const back = async (seq: number, with_later = false) =>
      tryTo(on.store, 'step-back', { act: await actNumbered(on.store, seq), with_later });

    test('steps an act back, and the step back itself', async () => {
      const dam = await does(on.store, 'record-queen', { queen: { code: '24-001', emerged: '2024-06-01' } });
      const before = await wholeBook(on);
      await does(on.store, 'record-queen', { queen: { code: '26-014', dam }, mark: { colour: 'white', disc: 14 } });
      const after = await wholeBook(on);
      expect(await back(2)).toMatchObject({ result: { steppedBack: [await actNumbered(on.store, 2)] } });
      expect(await wholeBook(on)).toEqual(before);
      const dropped = await on.store.changes({ steppingBack: true, kinds: ['queen'] });
      expect(dropped).toMatchObject([{ seq: 3, kind: 'queen', before: { code: '26-014', dam }, after: null }]);
      expect((await on.store.acts({ steppingBack: true })).map(({ seq }) => seq)).toEqual([3]);
      expect(await on.store.changes({ steppingBack: true, kinds: ['cross'] })).toEqual([]);
      expect(await back(3)).toMatchObject({ seq: 4 });
      expect(await wholeBook(on)).toEqual(after);
    });

    test('names the acts in the way, and takes them back as one act that itself steps back', async () => {
      const empty = await wholeBook(on);
      const dam = await does(on.store, 'record-queen', { queen: { code: 'M' } });
      const daughter = await does(on.store, 'record-queen', { queen: { code: 'D', dam } });
      await does(on.store, 'recode-queen', { queen: daughter, code: 'D2' });
      await does(on.store, 'record-note', { about_kind: 'queen', about: daughter, words: 'calm' });
      const full = await wholeBook(on);
      const refused = await back(1);
      expect(refused).toMatchObject({ problems: [{ code: 'built-on', values: { seq: 2, name: 'record-queen' } }] });
      expect(await wholeBook(on)).toEqual(full);
      expect(await back(1, true)).toMatchObject({ seq: 5 });
      expect(await wholeBook(on)).toEqual(empty);
      const acts = await on.store.acts({});
      expect(acts.slice(0, 4).every(({ steppedBackBy }) => steppedBackBy === acts[4]?.id)).toBe(true);
      expect(await back(5)).toMatchObject({ seq: 6 });
      expect(await wholeBook(on)).toEqual(full);
    });

    test('is not blocked by a later change of another field, nor by acts that no longer stand', async () => {
      const id = await does(on.store, 'record-queen', { queen: { code: 'A' } });
      await tryTo(on.store, 'correct', { kind: 'queen', id, set: { code: 'B' } });
      await tryTo(on.store, 'correct', { kind: 'queen', id, set: { emerged: '2026-05-01' } });
      await tryTo(on.store, 'correct', { kind: 'queen', id, set: { code: 'C' } });
      expect(await back(2)).toMatchObject({ problems: [{ code: 'built-on', values: { seq: 4 } }] });
      expect(await back(4)).toMatchObject({ seq: 5 });
      expect(await back(2)).toMatchObject({ seq: 6 });
      const { answer } = await on.store.read(['queen'], (facts) => facts.get('queen', id));
      expect(answer).toMatchObject({ code: 'A', emerged: '2026-05-01' });
    });

    test('runs the standing rules: a code taken meanwhile keeps its owner', async () => {
      const first = await does(on.store, 'record-queen', { queen: { code: 'A' } });
      await does(on.store, 'recode-queen', { queen: first, code: 'B' });
      await does(on.store, 'record-queen', { queen: { code: 'A' } });
      expect(await back(2)).toMatchObject({ problems: [{ code: 'code-taken' }] });
    });

    test('an act stepped back already is not stepped back twice; an unknown one is named', async () => {
      await does(on.store, 'record-yard', { name: 'Home' });
      await back(1);
      expect(await back(1)).toMatchObject({ problems: [{ code: 'stepped-back-already' }] });
      const unknown = await tryTo(on.store, 'step-back', { act: '0190a000-0000-7000-8000-000000000001' });
      expect(unknown).toMatchObject({ problems: [{ code: 'unknown-act' }] });
    });

    test('any sequence of acts, taken back newest first, leaves every earlier book exactly as it was', async () => {
      const step = fc.oneof(
        fc.record({ do: fc.constant('queen'), code: fc.string({ minLength: 1, maxLength: 3 }), dam: fc.nat() }),
        fc.record({ do: fc.constant('recode'), code: fc.string({ minLength: 1, maxLength: 3 }), dam: fc.nat() }),
        fc.record({ do: fc.constant('mark'), code: fc.constant(''), dam: fc.nat() }),
        fc.record({ do: fc.constant('fate'), code: fc.constant(''), dam: fc.nat() }),
        fc.record({ do: fc.constant('back'), code: fc.constant(''), dam: fc.nat() }),
      );
      await fc.assert(
        fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), async (steps) => {
          const here_ = await fresh();
          const queens: RecordId[] = [];
          const books = [await wholeBook(here_)];
          const one = (i: number) => queens[i % Math.max(queens.length, 1)];
          for (const { do: what, code, dam } of steps) {
            const queen = one(dam);
            const seq = await here_.store.seq();
            if (what === 'queen') {
              const done = await tryTo(here_.store, 'record-queen', { queen: { code, dam: queen ?? null } });
              if ('result' in done) queens.push((done.result as { id: RecordId }).id);
            } else if (queen !== undefined && what === 'recode')
              await tryTo(here_.store, 'recode-queen', { queen, code });
            else if (queen !== undefined && what === 'mark')
              await tryTo(here_.store, 'mark-queen', { queen, disc: dam });
            else if (queen !== undefined && what === 'fate')
              await tryTo(here_.store, 'record-fate', { queen, kind: 'died' });
            else if (what === 'back' && seq > 0)
              await tryTo(here_.store, 'step-back', { act: await actNumbered(here_.store, 1 + (dam % seq)) });
            if ((await here_.store.seq()) > seq) books.push(await wholeBook(here_));
          }
          for (let seq = books.length - 1; seq > 0; seq--) {
            const done = await tryTo(here_.store, 'step-back', { act: await actNumbered(here_.store, seq) });
            expect('result' in done || done.problems[0]?.code, `act ${seq}`).toSatisfy(
              (said) => said === true || said === 'stepped-back-already',
            );
            if ('result' in done) expect(await wholeBook(here_)).toEqual(books[seq - 1]);
          }
          await here_.end();
        }),
        { numRuns: name === 'SQLite' ? 25 : 4, seed: 20260612 },
      );
    }, 120_000);
  });
