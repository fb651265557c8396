import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import { barLeaf } from '#questions/rearing/bar-leaf.ts';
import { virgins } from '#questions/rearing/virgins.ts';
import { day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../support/databases.ts';
import { actNumbered, does, portsOver, tryTo } from '../support/doing.ts';

const on = (date: string, happened = false) => ({
  done: `${date}T10:00:00.000+02:00[Europe/Berlin]` as Moment,
  ...(happened ? { happened } : {}),
});

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`virgins of a shared bar on ${name}`, () => {
    let at: Fresh;
    let made: { a: RecordId; b: RecordId; other: RecordId; bar: RecordId; queens: RecordId[] };
    beforeEach(async () => {
      at = await fresh();
      made = await emerged();
    });
    afterEach(() => at.end());

    const queen = (code: string) =>
      does(at.store, 'record-queen', { queen: { code, emerged: '2026-06-20' } }, on('2027-03-20'));
    const cross = (code: string, dam: RecordId, mother: RecordId) =>
      does(
        at.store,
        'plan-cross',
        { cross: { code, queens_wanted: 2, dose_ul: 8 }, dams: [dam], drone_sources: [{ queen: mother }] },
        on('2027-03-20'),
      );

    /** A bar of one dam planned for crosses A and B; four queens of it out of their cells; C is of another dam. */
    async function emerged() {
      const [dam, mother, stranger] = [await queen('26-014'), await queen('R-07'), await queen('26-020')];
      const [a, b] = [await cross('A', dam, mother), await cross('B', dam, mother)];
      const other = await cross('C', stranger, mother);
      const season = { name: '2027', from_on: '2027-06-10', to_on: '2027-06-30' };
      await does(at.store, 'begin-season', season, on('2027-03-20'));
      const dated = (id: RecordId) => ({
        cross: id,
        on: '2027-06-12',
        queens: 2,
        queen_age: 6,
        drone_age_from: 13,
        drone_age_to: 20,
      });
      const use = (id: RecordId) => ({ cross: id, on: '2027-06-12', amount: 2 });
      const plan = {
        days: [dated(a), dated(b)],
        bars: [{ dam, day: '2027-05-25', larvae: 10, uses: [use(a), use(b)] }],
        combs: [{ mother, day: '2027-04-27', combs: 1, uses: [use(a), use(b)] }],
      };
      const taken = await tryTo(at.store, 'take-season-plan', plan, on('2027-04-01'));
      if ('problems' in taken) throw new Error(JSON.stringify(taken.problems));
      const ranges = [{ position_from: 1, position_to: 10, dam }];
      const graft = { code: 'bar 1', day: '2027-05-25' };
      const bar = await does(at.store, 'record-graft', { graft, ranges }, on('2027-05-25', true));
      const four = [1, 2, 3, 4].map((position) => ({ position }));
      const out = await tryTo(
        at.store,
        'emerge-virgins',
        { graft: bar, on: '2027-06-06', virgins: four },
        on('2027-06-06', true),
      );
      if ('problems' in out) throw new Error(JSON.stringify(out.problems));
      return { a, b, other, bar, queens: (out.result as { queens: RecordId[] }).queens };
    }

    const asked = async () => {
      const answered = await ask(virgins, { today: day('2027-06-07') }, portsOver(at.store));
      if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
      return answered.answer;
    };
    const meantFor = async () => (await asked()).virgins.map(({ cross: of }) => of?.code ?? null).sort();
    const mean = (queens: readonly RecordId[], of: RecordId | null) =>
      tryTo(at.store, 'mean-virgins', { queens, cross: of }, on('2027-06-07'));

    test('are for none of its crosses until it is said, and could be for each; said once or again, and stepped back', async () => {
      const { a, b, queens } = made;
      const before = await asked();
      expect(before.virgins.map(({ cross: of, couldBeFor }) => [of, couldBeFor.length])).toEqual(
        Array(4).fill([null, 2]),
      );
      expect(before.crosses.map(({ code, wanted, meant }) => [code, wanted, meant])).toEqual([
        ['A', 2, 0],
        ['B', 2, 0],
      ]);
      await mean(queens.slice(0, 2), a);
      const done = await mean(queens.slice(2), b);
      expect(await meantFor()).toEqual(['A', 'A', 'B', 'B']);
      expect((await asked()).crosses.map(({ meant }) => meant)).toEqual([2, 2]);
      await mean(queens.slice(1, 2), b);
      expect(await meantFor()).toEqual(['A', 'B', 'B', 'B']);
      await mean(queens.slice(1, 2), null);
      expect(await meantFor()).toEqual(['A', 'B', 'B', null].sort());
      if ('problems' in done) throw new Error('not kept');
      await tryTo(at.store, 'step-back', { act: await actNumbered(at.store, done.seq), with_later: true });
      // What was said of the second queen since stands.
      expect(await meantFor()).toEqual(['A', null, null, null].sort());
      const leaf = await ask(barLeaf, { graft: made.bar, today: day('2027-06-07') }, portsOver(at.store));
      if ('problems' in leaf) throw new Error('no leaf');
      expect(leaf.answer?.crosses.map(({ code }) => code)).toEqual(['A', 'B']);
      expect(leaf.answer?.cells.slice(0, 4).map(({ queen: out }) => out?.cross ?? null)).toEqual([
        'A',
        null,
        null,
        null,
      ]);
    });

    test('of a bar whose other cross was given up are for the one that is left', async () => {
      await does(at.store, 'cancel-cross', { cross: made.b }, on('2027-06-07'));
      expect(await meantFor()).toEqual(['A', 'A', 'A', 'A']);
    });

    test('the bench queue has the last word; an inseminated or unknown queen, or a cross given up, is refused', async () => {
      const { a, b, other, queens } = made;
      const bench = await does(at.store, 'open-bench-day', { day: '2027-06-12' }, on('2027-06-12'));
      const [first] = queens;
      const queued = { bench_day: bench, cross: a, queens: [{ queen: first }] };
      await does(at.store, 'queue-queens', queued, on('2027-06-12'));
      expect(await meantFor()).toEqual(['A', null, null, null].sort());
      const codes = async (of: RecordId | null, ids: readonly RecordId[]) => {
        const said = await mean(ids, of);
        return 'problems' in said ? said.problems.map(({ code }) => code) : said.warnings.map(({ code }) => code);
      };
      expect(await codes(b, queens.slice(0, 1))).toEqual(['queued-for-another']);
      expect(await codes(other, queens.slice(1, 2))).toEqual(['dam-not-of-cross']);
      expect(await codes(a, [a])).toEqual(['unknown-record']);
      await does(at.store, 'cancel-cross', { cross: b }, on('2027-06-12'));
      expect(await codes(b, queens.slice(2))).toEqual(['cross-cancelled']);
    });
  });
