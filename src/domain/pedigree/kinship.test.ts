import { describe, expect, test } from 'vitest';
import { randomStream } from '#numeric/random/random-stream.ts';
import { day } from '#units/calendar-day.ts';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import type { PedigreeFacts } from './facts.ts';
import {
  broodInbreeding,
  broodInbreedings,
  covarianceOfNodes,
  groupRelationship,
  inbreeding,
  relationship,
  relationshipBetween,
  workersRelationships,
} from './kinship.ts';
import { kinshipReport } from './kinship-report.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { layPedigreeOf } from './pedigree.ts';
import { plannedCross } from './planned-cross.ts';

function lay(facts: PedigreeFacts): Pedigree {
  const laid = layPedigreeOf(facts);
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return laid.pedigree;
}

/** The same facts with queens and pools in random order. */
function shuffled(facts: PedigreeFacts, seed: number): PedigreeFacts {
  const random = randomStream(seed);
  const mix = <T>(items: readonly T[]): T[] =>
    items
      .map((item) => ({ item, key: random.uniform() }))
      .sort((a, b) => a.key - b.key)
      .map(({ item }) => item);
  return { queens: mix(facts.queens), pools: mix(facts.pools) };
}

/** The same facts with nearly all queens inseminated from one batch. */
const ofOneBatch = ({ queens, pools }: PedigreeFacts): PedigreeFacts => ({
  queens: queens.map((queen) => (queen.pool === 'b0' || queen.pool == null ? queen : { ...queen, pool: 'b1' })),
  pools,
});

describe('on random stocks of every mating', () => {
  const seeds = [31, 32, 33, 34, 35];
  test('the order of the rows changes nothing', () => {
    for (const seed of seeds) {
      const facts = randomStock(seed);
      const one = lay(facts);
      const other = lay(shuffled(facts, seed));
      for (const a of facts.queens) {
        expect(inbreeding(other, a.id)).toBeCloseTo(inbreeding(one, a.id), 12);
        for (const b of facts.queens)
          expect(relationship(other, a.id, b.id)).toBeCloseTo(relationship(one, a.id, b.id), 12);
      }
    }
  });
  test('the brood of a queen is as inbred as her daughters', () => {
    let daughters = 0;
    for (const seed of seeds) {
      const facts = randomStock(seed);
      const pedigree = lay(facts);
      for (const { id, dam, fromPool } of facts.queens) {
        const ofBrood = typeof dam === 'string' && fromPool == null ? broodInbreeding(pedigree, dam) : null;
        if (ofBrood === null) continue;
        daughters++;
        expect(inbreeding(pedigree, id)).toBeCloseTo(ofBrood, 12);
      }
    }
    expect(daughters).toBeGreaterThan(20);
  });
  test('the brood of all queens at once is that of each, also of many of one batch', () => {
    for (const facts of seeds.map((seed) => randomStock(seed)).flatMap((made) => [made, ofOneBatch(made)])) {
      const pedigree = lay(facts);
      const all = broodInbreedings(pedigree);
      const alike = workersRelationships(pedigree);
      for (const [k, { id }] of facts.queens.entries()) {
        expect(all[k]).toBeCloseTo(broodInbreeding(pedigree, id) ?? 0, 12);
        const [node, pool] = [pedigree.queenNode[k] ?? 0, pedigree.carriedNode[k] ?? 0];
        const expected =
          0.25 * (pedigree.self[node] ?? 0) + (pedigree.self[pool] ?? 0) + covarianceOfNodes(pedigree, node, pool);
        expect(alike[k]).toBeCloseTo(expected, 12);
      }
    }
  });
  test('an unrelated queen more changes nothing and is related to nobody', () => {
    for (const seed of seeds) {
      const facts = randomStock(seed);
      const one = lay(facts);
      const more = lay({ ...facts, queens: [{ id: 'stranger' }, ...facts.queens] });
      for (const a of facts.queens) {
        expect(relationship(more, a.id, 'stranger')).toBe(0);
        for (const b of facts.queens) expect(relationship(more, a.id, b.id)).toBe(relationship(one, a.id, b.id));
      }
    }
  });
  test('own variances are never negative and inbreeding lies in 0 … 1', () => {
    for (let seed = 100; seed < 140; seed++) {
      const pedigree = lay(randomStock(seed, { rounds: 8 }));
      for (const own of pedigree.recursion.own) expect(own).toBeGreaterThanOrEqual(0);
      for (const f of pedigree.inbreeding) expect(f >= 0 && f <= 1).toBe(true);
    }
  });
});

// by hand: an allele of C's mother B is paternal with ½, and then alike with a second sperm of the same batch of 10 unrelated drones with 1/10
test('one batch of strangers used on a mother and on her daughter makes inbred granddaughters', () => {
  const pedigree = lay({
    queens: [
      { id: 'A', pool: 'batch' },
      { id: 'B', dam: 'A', pool: 'batch' },
      { id: 'C', dam: 'B' },
    ],
    pools: [{ id: 'batch', sources: [{ open: true, share: 1, drones: 10 }] }],
  });
  expect(broodInbreeding(pedigree, 'A')).toBe(0);
  expect(inbreeding(pedigree, 'B')).toBe(0);
  expect(broodInbreeding(pedigree, 'B')).toBeCloseTo(0.05, 15);
  expect(inbreeding(pedigree, 'C')).toBeCloseTo(0.05, 15);
});

test('a planned cross with somebody who is not in the stock is refused, and spoils no later answer', () => {
  const pedigree = lay({ queens: [{ id: 'A' }, { id: 'C' }], pools: [] });
  const sources = [{ queen: 'nobody', share: 1, drones: 3 }];
  expect(() => plannedCross(pedigree, { queen: 'A', sources })).toThrow('nobody');
  expect(relationship(pedigree, 'C', 'A')).toBe(0);
});

test('groups: mean relationship within and between, by contributions', () => {
  const pedigree = lay({ queens: [{ id: 'M' }, { id: 'A', dam: 'M' }, { id: 'B', dam: 'M' }, { id: 'N' }], pools: [] });
  const both = [
    { queen: 'A', share: 2 },
    { queen: 'B', share: 2 },
  ];
  expect(groupRelationship(pedigree, both)).toBeCloseTo((1 + 0.25 + 0.5 / 12) / 2, 12);
  expect(
    relationshipBetween(pedigree, both, [
      { queen: 'M', share: 3 },
      { queen: 'N', share: 1 },
    ]),
  ).toBeCloseTo(0.375, 12);
});

test('the report holds every unordered pair of different queens once', () => {
  const pedigree = lay({
    queens: [
      { id: '1', code: 'M' },
      { id: '2', code: 'A', dam: '1' },
      { id: '3', code: 'B', dam: '1' },
    ],
    pools: [],
  });
  const { queens, pairs, assumptions } = kinshipReport(pedigree, { all: true });
  expect(queens).toEqual(['M', 'A', 'B'].map((queen) => ({ queen, inbreeding: 0, broodInbreeding: null })));
  expect(pairs.map((p) => `${p.a}${p.b}`)).toEqual(['MA', 'MB', 'AB']);
  expect(pairs[2]?.coancestry).toBeCloseTo((0.25 + 0.5 / 12) / 2, 12);
  expect(assumptions).toEqual(['M: nothing is written about her mating; taken as open mated by 12 unrelated drones']);
  expect(kinshipReport(pedigree, { pairs: [['2', '1']] }).pairs).toEqual([
    { a: 'A', b: 'M', relationship: 0.5, coancestry: 0.25 },
  ]);
});

test('facts that cannot stand are named by path and code', () => {
  const laid = layPedigreeOf({
    queens: [
      { id: 'A', dam: 'X' },
      { id: 'A' },
      { id: 'B', pool: 'p' },
      { id: 'C', sisters: 0 },
      { id: 'D', fromPool: 'q' },
    ],
    pools: [
      { id: 'r', sources: [] },
      { id: 's', sources: [{ queen: 'Z', share: 0, drones: 0 }] },
    ],
  });
  expect(laid.problems.map((p) => [p.path, p.code])).toEqual([
    ['queens.1.id', 'pedigree-queen-twice'],
    ['queens.0.dam', 'pedigree-dam-unknown'],
    ['queens.2.pool', 'pedigree-pool-unknown'],
    ['queens.3.sisters', 'pedigree-sisters-not-whole'],
    ['queens.4.fromPool', 'pedigree-pool-unknown'],
    ['pools.0.sources', 'pedigree-pool-empty'],
    ['pools.1.sources.0', 'pedigree-source-unknown'],
    ['pools.1.sources.0', 'pedigree-share-not-positive'],
    ['pools.1.sources.0', 'pedigree-drones-not-positive'],
  ]);
});

test('a group with somebody who is not in the stock is refused, and spoils no later answer', () => {
  const pedigree = lay({ queens: [{ id: 'A' }, { id: 'C' }], pools: [] });
  const unfit = [
    { queen: 'A', share: 1 },
    { queen: 'nobody', share: 1 },
  ];
  const fit = [{ queen: 'C', share: 1 }];
  expect(() => groupRelationship(pedigree, unfit)).toThrow('nobody');
  expect(groupRelationship(pedigree, fit)).toBe(1);
  expect(() => relationshipBetween(pedigree, [{ queen: 'A', share: 1 }], unfit)).toThrow('nobody');
  expect(relationshipBetween(pedigree, fit, [{ queen: 'A', share: 1 }])).toBe(0);
  expect(relationship(pedigree, 'C', 'A')).toBe(0);
});

test('of very many faults of descent a thousand are told', () => {
  const group = { id: 'G', sisters: 3, born: day('2025-06-01') };
  const young = Array.from({ length: 501 }, (_, i) => ({
    id: `y${i}`,
    dam: 'G',
    born: i === 0 ? null : day('2024-06-01'),
  }));
  expect(layPedigreeOf({ queens: [group, ...young], pools: [] }).problems).toHaveLength(1000);
});

test('the brood of a large stock tells how far it is', () => {
  const queens = Array.from({ length: 100_001 }, (_, i) => ({ id: `q${i}`, pool: i === 0 ? 'own' : null }));
  const pools = [{ id: 'own', sources: [{ queen: 'q0', share: 1, drones: 8 }] }];
  const told: [number, number][] = [];
  const { queens: answered } = kinshipReport(lay({ queens, pools }), { progress: (...one) => told.push(one) });
  expect(told).toEqual([[100_000, 100_001]]);
  expect(answered[0]?.broodInbreeding).toBe(0.5);
});
