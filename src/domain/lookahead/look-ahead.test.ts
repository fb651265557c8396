import { describe, expect, test } from 'vitest';
import type { PoolFact, QueenFact } from '../pedigree/facts.ts';
import { relationship } from '../pedigree/kinship.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { runReplicate } from './closed-stock.ts';
import { lookAhead } from './look-ahead.ts';

const plan = { breeders: 35, alleles: 20, drones: 10, scheme: 'random', cohorts: 20 } as const;
const options = { replicates: 300, seed: 1, limit: 0.85 };
const last = (given: Parameters<typeof lookAhead>[0], more = {}) => {
  const found = lookAhead(given, { ...options, ...more });
  return { ...found, last: found.cohorts.at(-1) };
};

// An independent simulation of the same stocks with explicit drones and neutral loci, 500 replicates: three standard errors of both.
describe('after 20 cohorts', () => {
  test.each([
    [25, 'random', 8.81, 0.858, 0.33],
    [25, 'one-daughter', 10.16, 0.875, 0.26],
    [25, 'pooled', 10.24, 0.877, 0.22],
    [35, 'random', 10.79, 0.88, 0.23],
    [35, 'one-daughter', 12.55, 0.896, 0.17],
  ] as const)('%d breeders, %s', (breeders, scheme, alleles, viability, below) => {
    const found = last({ ...plan, breeders, scheme }).last;
    expect(Math.abs((found?.allelesLeft ?? 0) - alleles)).toBeLessThan(0.4);
    expect(Math.abs((found?.meanViability ?? 0) - viability)).toBeLessThan(0.007);
    expect(Math.abs((found?.shareOfColoniesBelowLimit ?? 0) - below)).toBeLessThan(0.03);
  });
  test('a colony in rotation, 8 drones', () => {
    const found = last({ ...plan, breeders: 25, scheme: 'rotation', drones: 8 }).last;
    expect(Math.abs((found?.allelesLeft ?? 0) - 11.7)).toBeLessThan(0.4);
    expect(Math.abs((found?.meanViability ?? 0) - 0.898)).toBeLessThan(0.008);
  });
});

// Haplodiploid effective size, 9 N_f N_m / (2 N_f + 4 N_m) (Wright 1933; as quoted by Nomura and Takahashi 2012), with N inseminations by n random
// drones: 9N / (4(1 + 1/(2n))); 3N when each queen leaves one daughter, 4.5N when each also serves once as drone colony (derived).
describe('effective size', () => {
  test.each([
    ['random', (9 * 35) / (4 * 1.05)],
    ['one-daughter', 105],
    ['rotation', 157.5],
    ['pooled', 105],
  ] as const)('%s', (scheme, expected) => {
    const size = last({ ...plan, scheme }, { replicates: 60 }).effectiveSize ?? 0;
    expect(Math.abs(size / expected - 1)).toBeLessThan(0.06);
  });
  test('nothing to say after too few cohorts', () => {
    expect(last({ ...plan, cohorts: 4 }, { replicates: 2 }).effectiveSize).toBeNull();
  });
});

test('cohort 0: founders and their drones', () => {
  const first = lookAhead({ ...plan, cohorts: 0 }, { ...options, replicates: 400 }).cohorts[0];
  expect(first).toMatchObject({ cohort: 0, coancestry: 0 });
  // 1 − 1/20 with drones of the 34 others, ½ with her own
  expect(Math.abs((first?.meanViability ?? 0) - (34 * 0.95 + 0.5) / 35)).toBeLessThan(0.002);
  expect(lookAhead({ ...plan, cohorts: 3 }, { ...options, replicates: 1 }).cohorts).toHaveLength(4);
});

test('the same seed gives the same answer', () => {
  const small = { ...plan, breeders: 6, cohorts: 5 };
  expect(lookAhead(small, { ...options, replicates: 5 })).toEqual(lookAhead(small, { ...options, replicates: 5 }));
});

// Oracle: the kinship of domain/pedigree on the rotation written out (founders n, one daughter each, drones of the next queen round).
test('kinship of a rotation of two is that of its pedigree', () => {
  const states = runReplicate(
    { breeders: 2, alleles: 20, drones: 3, scheme: 'rotation', cohorts: 3 },
    { seed: 2, replicate: 0, limit: 0.85 },
  );
  const queens: QueenFact[] = [];
  const pools: PoolFact[] = [];
  for (let t = 0; t <= 3; t++) {
    for (const i of [0, 1]) {
      queens.push({ id: `${t}-${i}`, dam: t === 0 ? null : `${t - 1}-${i}`, pool: `s${t}-${i}` });
      pools.push({ id: `s${t}-${i}`, sources: [{ queen: `${Math.max(0, t - 1)}-${1 - i}`, share: 1, drones: 3 }] });
    }
  }
  const { pedigree } = layPedigreeOf({ queens, pools });
  if (pedigree === null) throw new Error('pedigree');
  for (const [t, state] of states.entries())
    expect(state.coancestry).toBeCloseTo(relationship(pedigree, `${t}-0`, `${t}-1`) / 2, 12);
});
