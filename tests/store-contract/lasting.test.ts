import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { inbreeding, relationshipsWith } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { assumptionsOf, type Laid, layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { type GatheredPedigree, gatherPedigree, pedigreeReads } from '#gather/pedigree.ts';
import type { Store } from '#ports/store.ts';
import { rowOf } from '#records/kind.ts';
import { kinds } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh, noon } from '../support/databases.ts';
import { actNumbered, does, newId, tryTo } from '../support/doing.ts';

const gathered = async (store: Store): Promise<GatheredPedigree> =>
  (await store.read(pedigreeReads, gatherPedigree)).answer;

function stands({ pedigree, problems }: Laid): Pedigree {
  if (pedigree === null) throw new Error(JSON.stringify(problems));
  return pedigree;
}

/** Every number of the one pedigree is that of the other, to 1e-12. */
function expectSame(found: Pedigree, fresh: Pedigree): void {
  const { columns, names } = fresh.stock;
  expect(found.stock.columns.queens).toBe(columns.queens);
  expect(assumptionsOf(found)).toEqual(assumptionsOf(fresh));
  for (let i = 0; i < columns.queens; i++) {
    const id = names.queenId(i);
    expect(Math.abs(inbreeding(found, id) - inbreeding(fresh, id))).toBeLessThan(1e-12);
    const [a, b] = [relationshipsWith(found, id), relationshipsWith(fresh, id)];
    for (let j = 0; j < columns.queens; j++) expect(Math.abs((a[j] ?? 9) - (b[j] ?? -9))).toBeLessThan(1e-12);
  }
}

/** One thing a person does; `a`, `b`, `c` choose among the queens and acts there are. */
type Step = {
  what: 'daughter' | 'mating' | 'flight' | 'dam' | 'mother' | 'back' | 'place';
  a: number;
  b: number;
  c: number;
};

const steps = fc.array(
  fc.record<Step>({
    what: fc.constantFrom('daughter', 'mating', 'flight', 'dam', 'mother', 'back', 'place'),
    a: fc.nat(99),
    b: fc.nat(99),
    c: fc.nat(99),
  }),
  { minLength: 4, maxLength: 14 },
);

/** Does the step, if the book allows it; what it refuses leaves everything as it was. */
async function take(store: Store, { what, a, b, c }: Step): Promise<void> {
  const { answer } = await store.read(['queen', 'insemination_source'], async (facts) => ({
    queens: (await facts.find('queen')).map(({ id }) => id),
    sources: (await facts.find('insemination_source')).map(({ id }) => id),
  }));
  const queen = (n: number) => answer.queens[n % answer.queens.length] as RecordId;
  const source = answer.sources[b % Math.max(1, answer.sources.length)];
  const parts = [{ queen: queen(b), share: 0.6 }, { queen: queen(c) }];
  switch (what) {
    case 'daughter':
      await tryTo(store, 'record-queen', { queen: { year: 2027, dam: queen(a) } });
      return;
    case 'mating':
      await tryTo(store, 'tell-mating', {
        queen: queen(a),
        carries: { how: 'inseminated', parts, drones: 1 + (c % 9) },
      });
      return;
    case 'flight':
      await tryTo(store, 'tell-mating', { queen: queen(a), carries: { how: 'open' } });
      return;
    case 'dam':
      await tryTo(store, 'correct', { kind: 'queen', id: queen(a), set: { dam: c % 4 === 0 ? null : queen(b) } });
      return;
    case 'mother':
      if (source !== undefined)
        await tryTo(store, 'correct', { kind: 'insemination_source', id: source, set: { queen: queen(a) } });
      return;
    case 'back': {
      const seq = await store.seq();
      if (seq > 0) await tryTo(store, 'step-back', { act: await actNumbered(store, seq - (a % Math.min(seq, 4))) });
      return;
    }
    default:
      await tryTo(store, 'record-yard', { name: `Yard ${a} ${b} ${c}`, zone: 'Europe/Berlin' });
  }
}

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`what lasts on ${name}`, () => {
    let on: Fresh;
    beforeEach(async () => {
      on = await fresh();
    });
    afterEach(() => on.end());

    const asMany = (made: { n: number }, kind: 'queen' | 'yard' = 'queen', store = on.store) =>
      store.read([kind], (facts) =>
        facts.lasting('queens', [kind], async (before: number[] | null) => {
          made.n++;
          return [...(before ?? []), await facts.count(kind)];
        }),
      );

    test('is made again when an act has touched its kinds, from what it was before, and not otherwise', async () => {
      const made = { n: 0 };
      expect((await asMany(made)).answer).toEqual([0]);
      await does(on.store, 'record-queen', { queen: { code: 'A' } });
      expect((await asMany(made)).answer).toEqual([0, 1]);
      const kept = (await asMany(made)).answer;
      await does(on.store, 'record-yard', { name: 'Heath', zone: 'Europe/Berlin' });
      expect((await asMany(made)).answer).toBe(kept);
      expect(made.n).toBe(2);
      await tryTo(on.store, 'step-back', { act: await actNumbered(on.store, 1) });
      expect((await asMany(made)).answer).toEqual([0, 1, 0]);
    });

    test('sees what another process wrote; another book and a book opened again have things of their own', async () => {
      const made = { n: 0 };
      await asMany(made);
      const other = await on.reopen();
      await does(other, 'record-queen', { queen: { code: 'A' } });
      expect((await asMany(made)).answer).toEqual([0, 1]);
      expect((await asMany(made, 'queen', other)).answer).toEqual([1]);
    });

    test('an act being written sees what it has written, and leaves nothing of it behind', async () => {
      const made = { n: 0 };
      await asMany(made);
      const id = newId();
      const within: number[][] = [];
      const seen = async (facts: Parameters<Parameters<Store['act']>[1]>[0]) =>
        within.push(await facts.lasting('queens', ['queen'], async () => [await facts.count('queen')]));
      await on.store.act({ id: newId(), name: 'test', input: {}, done: noon }, async (book) => {
        await book.write([{ kind: 'queen', id, create: rowOf(kinds.queen, id, { code: 'A' }) }]);
        await seen(book);
        return { problems: [refuse('', 'test')] };
      });
      expect(within).toEqual([[1]]);
      expect((await asMany(made)).answer).toEqual([0]);
      expect(made.n).toBe(1);
    });

    test('what could not be made is made the next time; a kind not declared is refused', async () => {
      const failing = on.store.read(['queen'], (facts) =>
        facts.lasting('queens', ['queen'], () => Promise.reject(new Error('no'))),
      );
      await expect(failing).rejects.toThrow('no');
      expect((await asMany({ n: 0 })).answer).toEqual([0]);
      const undeclared = on.store.read(['queen'], (facts) => facts.lasting('yards', ['yard'], async () => 1));
      await expect(undeclared).rejects.toThrow('not declared');
    });

    test('kinship: a daughter more, or a mating corrected, works out a few nodes and leaves the rest', async () => {
      const mothers = await Promise.all(
        ['M', 'N', 'O'].map((code) => does(on.store, 'record-queen', { queen: { code, year: 2025 } })),
      );
      const [m, n, o] = mothers as [RecordId, RecordId, RecordId];
      const carries = (queen: RecordId) => ({ how: 'inseminated', parts: [{ queen }], drones: 8 });
      await does(on.store, 'tell-mating', { queen: m, carries: carries(n) });
      for (let k = 0; k < 30; k++)
        await does(on.store, 'record-queen', { queen: { code: `D${k}`, year: 2026, dam: m } });
      const first = await gathered(on.store);
      stands(first.lay());
      expect(first.recomputed()).toBeNull();
      const late = await does(on.store, 'record-queen', { queen: { code: 'late', year: 2027, dam: m } });
      const daughter = await gathered(on.store);
      stands(daughter.lay());
      expect(daughter.recomputed()).toBe(1);
      await does(on.store, 'tell-mating', { queen: late, carries: carries(o) });
      const mated = await gathered(on.store);
      stands(mated.lay());
      expect(mated.recomputed()).toBe(1);
      await does(on.store, 'record-yard', { name: 'Heath', zone: 'Europe/Berlin' });
      expect(await gathered(on.store)).toBe(mated);
      expect(mated.lay()).toBe(mated.lay());
    });
  });

// Oracle: the same book read and laid out from nothing by a process that has just opened it.
test.each(databases.filter(({ here }) => here))(
  'kinship kept on $name over any acts is that of the book opened anew',
  async ({ name, fresh }) => {
    const onPostgres = name === 'PostgreSQL';
    await fc.assert(
      fc.asyncProperty(steps, async (taken) => {
        const on = await fresh();
        try {
          for (const code of ['A', 'B', 'C', 'D'])
            await does(on.store, 'record-queen', { queen: { code, year: 2020 } });
          for (const step of taken) {
            await take(on.store, step);
            const kept = (await gathered(on.store)).lay();
            const { answer } = await on.store.read('all', (facts) =>
              gatherPedigree({ ...facts, lasting: (_name, _kinds, make) => make(null) }),
            );
            expectSame(stands(kept), stands(layPedigreeOf(answer.facts)));
          }
        } finally {
          await on.end();
        }
      }),
      { numRuns: onPostgres ? 4 : 25, seed: 41 },
    );
  },
  120_000,
);
