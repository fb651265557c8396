import { expect, test } from 'vitest';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import type { PedigreeFacts } from './facts.ts';
import { inbreeding, relationshipsWith } from './kinship.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { layPedigreeOf } from './pedigree.ts';
import { relayPedigreeOf } from './relay-pedigree.ts';

const laid = (facts: PedigreeFacts): Pedigree => {
  const { pedigree } = layPedigreeOf(facts);
  if (pedigree === null) throw new Error('does not stand');
  return pedigree;
};

function expectSame(found: Pedigree, fresh: Pedigree): void {
  const { columns, names } = fresh.stock;
  for (let i = 0; i < columns.queens; i++) {
    const id = names.queenId(i);
    expect(inbreeding(found, id)).toBeCloseTo(inbreeding(fresh, id), 13);
    const [a, b] = [relationshipsWith(found, id), relationshipsWith(fresh, id)];
    for (let j = 0; j < columns.queens; j++) expect(a[j]).toBeCloseTo(b[j] ?? 9, 13);
  }
}

const last = <T>(items: readonly T[]): T => items[items.length - 1] as T;

// Oracle: the same facts laid out from nothing, on random stocks of every mating.
test.each(Array.from({ length: 12 }, (_, k) => k + 1))(
  'stock %i after a change equals the stock laid out anew',
  (seed) => {
    const facts = randomStock(seed);
    const before = laid(facts);
    const mother = last(facts.queens.filter((queen) => (queen.sisters ?? 1) === 1));

    const withDaughter: PedigreeFacts = { ...facts, queens: [...facts.queens, { id: 'new', dam: mother.id }] };
    const daughter = relayPedigreeOf(before, withDaughter);
    expect(daughter.recomputed).toBe(1);
    expectSame(daughter.laid.pedigree as Pedigree, laid(withDaughter));

    const remated: PedigreeFacts = {
      queens: facts.queens.map((queen) => (queen.id === 'f0' ? { ...queen, pool: 'fresh' } : queen)),
      pools: [...facts.pools, { id: 'fresh', sources: [{ queen: 'f1', share: 1, drones: 3 }] }],
    };
    const changed = relayPedigreeOf(before, remated);
    expect(changed.recomputed).toBeLessThan(before.recursion.size);
    expectSame(changed.laid.pedigree as Pedigree, laid(remated));

    const nothing = relayPedigreeOf(before, facts);
    expect(nothing.recomputed).toBe(0);
    expectSame(nothing.laid.pedigree as Pedigree, before);
  },
);

test('a change that cannot be is refused as it is from nothing', () => {
  const facts = { queens: [{ id: 'A' }, { id: 'B', dam: 'A' }], pools: [] };
  const loop = {
    queens: [
      { id: 'A', dam: 'B' },
      { id: 'B', dam: 'A' },
    ],
    pools: [],
  };
  expect(relayPedigreeOf(laid(facts), loop).laid.problems[0]?.code).toBe('pedigree-loop');
});
