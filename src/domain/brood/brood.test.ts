import { describe, expect, test } from 'vitest';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import type { PedigreeFacts, PoolFact, QueenFact, SourceFact } from '../pedigree/facts.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { type BroodOptions, broodOutlook } from './brood.ts';
import type { Evidence } from './evidence.ts';
import { wholeDrones } from './whole-drones.ts';

function lay(facts: PedigreeFacts): Pedigree {
  const laid = layPedigreeOf(facts);
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return laid.pedigree;
}
const drones = (queen: string, number: number, share = 1): SourceFact => ({ queen, share, drones: number });
const MANY = 1e9;

function outlook(facts: PedigreeFacts, queen: string, sources: SourceFact[], options: BroodOptions = {}) {
  const answer = broodOutlook(lay(facts), [{ queen, sources }], { draws: 20_000, ...options });
  if (answer.crosses === null) throw new Error(JSON.stringify(answer.problems));
  return answer.crosses[0] as NonNullable<(typeof answer.crosses)[0]>;
}
/** Four standard errors of a mean with standard deviation `sd` over `draws`. */
const within = (sd: number, draws = 20_000) => 4 * (sd / Math.sqrt(draws)) + 1e-12;

describe('founders and unrelated drones', () => {
  const facts = { queens: [{ id: 'Q' }, { id: 'M' }], pools: [] };
  // V = 1 − X/(2n), X ~ Binomial(n, 2/k): mean 1 − 1/k, variance (2/k)(1 − 2/k)/(4n) (Page and Marks 1982)
  test.each([
    [6, 8, 0.8333333, 0.083333, 1 - 0.468229],
    [10, 10, 0.9, 0.063246, 1 - 0.879126],
    [12, 20, 0.9166667, 0.041667, 1 - 0.96292],
  ])('%d alleles, %d drones', (alleles, number, mean, sd, below) => {
    const found = outlook(facts, 'Q', [{ open: true, share: 1, drones: number }], { alleles });
    expect(Math.abs(found.expectedViability - mean)).toBeLessThan(within(sd));
    expect(Math.abs(found.sdViability - sd)).toBeLessThan(0.002);
    expect(Math.abs(found.probabilityBelowLimit - below)).toBeLessThan(within(Math.sqrt(below * (1 - below))));
  });
  test('unequal shares of single drones', () => {
    // by enumeration of the 2⁷ match patterns: mean .9, SD √(.2·.8·.235/4), P(V ≥ .85) = .759398
    const sources = [0.4, 0.2, 0.1, 0.1, 0.1, 0.05, 0.05].map(
      (share): SourceFact => ({ open: true, share, drones: 1 }),
    );
    const found = outlook(facts, 'Q', sources, { alleles: 10 });
    expect(Math.abs(found.expectedViability - 0.9)).toBeLessThan(within(0.097));
    expect(found.sdViability).toBeCloseTo(0.0969536, 2);
    expect(Math.abs(found.probabilityBelowLimit - (1 - 0.759398))).toBeLessThan(within(0.43));
  });
  test('drones of one unrelated mother: the same mean, more spread than of many mothers', () => {
    const one = outlook(facts, 'Q', [drones('M', 10)], { alleles: 10 });
    expect(Math.abs(one.expectedViability - 0.9)).toBeLessThan(within(0.11));
    // by hand: alleles shared with her 0, 1, 2 with 28/45, 16/45, 1/45; V = 1, 1 − Bin(10, ½)/20, ½
    const below = (16 / 45) * 0.828125 + 1 / 45;
    expect(Math.abs(one.probabilityBelowLimit - below)).toBeLessThan(within(0.5));
  });
});

// By enumeration of all genotypes (a place where queens are never alike), against the neutral inbreeding of the same crosses.
describe('close inbreeding, generation after generation', () => {
  const first: QueenFact[] = [{ id: 'q0', pool: 's0' }, { id: 'Z' }];
  const s0: PoolFact = { id: 's0', sources: [drones('Z', 1)] };
  const options = { alleles: 60_000 };
  test('a queen and very many drones of her mother: homozygous brood, and F', () => {
    const queens = [...first];
    const pools = [s0];
    for (let g = 1; g <= 5; g++) {
      queens.push({ id: `q${g}`, dam: `q${g - 1}`, fromPool: `s${g - 1}`, pool: `s${g}` });
      pools.push({ id: `s${g}`, sources: [drones(`q${g - 1}`, MANY)] });
    }
    const homozygous = [0.25, 0.333333, 0.388889, 0.425926, 0.450617];
    const neutral = [0.25, 0.375, 0.5, 0.59375, 0.671875];
    for (let g = 1; g <= 5; g++) {
      const found = outlook({ queens, pools }, `q${g}`, [drones(`q${g - 1}`, MANY)], options);
      expect(Math.abs(1 - found.expectedViability - (homozygous[g - 1] ?? 9))).toBeLessThan(within(0.13));
      expect(found.inbreeding).toBeCloseTo(neutral[g - 1] ?? 9, 9);
    }
  });
  test('sister queens, each with one drone of the other', () => {
    const queens: QueenFact[] = [...first, { id: 'a0', dam: 'q0' }, { id: 'b0', dam: 'q0' }];
    const pools = [s0];
    const homozygous = [0.375, 0.46875, 0.492188, 0.498047, 0.499512];
    for (let g = 1; g <= 5; g++) {
      pools.push({ id: `s${g}`, sources: [drones(`b${g - 1}`, 1)] });
      for (const c of ['a', 'b']) queens.push({ id: `${c}${g}`, dam: `a${g - 1}`, fromPool: `s${g}` });
      const found = outlook({ queens, pools }, `a${g - 1}`, [drones(`b${g - 1}`, 1)], options);
      expect(Math.abs(1 - found.expectedViability - (homozygous[g - 1] ?? 9))).toBeLessThan(within(0.25));
    }
  });
});

describe('evidence', () => {
  test('typed queens: a known batch against known alleles', () => {
    // worked example E12, by hand: shares of alleles in the batch .25 .20 .15 .15 .15 .10; V = 1 − ½(sum over her two)
    const mothers: [string, [string, string], number][] = [
      ['m1', ['1', '2'], 0.4],
      ['m2', ['1', '3'], 0.1],
      ['m3', ['4', '5'], 0.3],
      ['m4', ['3', '6'], 0.2],
    ];
    const queens: [string, [string, string], number][] = [
      ['q12', ['1', '2'], 1 - 0.5 * (0.25 + 0.2)],
      ['q16', ['1', '6'], 1 - 0.5 * (0.25 + 0.1)],
      ['q56', ['5', '6'], 1 - 0.5 * (0.15 + 0.1)],
      ['q78', ['7', '8'], 1],
      ['q38', ['3', '8'], 1 - 0.5 * 0.15],
    ];
    const evidence: Evidence = {
      alleles: [...mothers, ...queens].map(([queen, alleles]) => ({ queen, alleles })),
      counts: [],
    };
    const facts = { queens: [...mothers, ...queens].map(([id]) => ({ id })), pools: [] };
    for (const [queen, , expected] of queens) {
      const sources = mothers.map(([mother, , share]) => drones(mother, MANY, share));
      const found = outlook(facts, queen, sources, { evidence, draws: 100 });
      expect(found.expectedViability).toBeCloseTo(expected, 12);
      expect(found.sdViability).toBeCloseTo(0, 9);
    }
  });

  // Worked example E12. A queen is never alike at this place, so that alleles of frequencies p meet in her brood with (Σp² − Σp³)/(1 − Σp²), not Σp².
  test('queens and drones of one population: expected homozygous brood .1925, not the .20 of Σp²', () => {
    // five drone mothers whose ten alleles have p = (.3, .2, .2, .1, .1, .1), and a virgin of each, raised from her mated in the population
    const typed: [string, [string, string]][] = [
      ['m1', ['1', '2']],
      ['m2', ['1', '3']],
      ['m3', ['1', '4']],
      ['m4', ['2', '5']],
      ['m5', ['3', '6']],
    ];
    const flying = typed.map(([mother]) => drones(mother, Number.POSITIVE_INFINITY, 0.2));
    const pedigree = lay({
      queens: typed.map(([id]) => ({ id, pool: 'place' })),
      pools: [{ id: 'place', sources: flying }],
    });
    const evidence: Evidence = { alleles: typed.map(([queen, alleles]) => ({ queen, alleles })), counts: [] };
    const sources: SourceFact[] = [{ pool: 'place', share: 1, draws: null }];
    const crosses = typed.flatMap(([id]) => [
      { queen: id, sources },
      { daughterOf: id, sources },
    ]);
    const answer = broodOutlook(pedigree, crosses, { evidence, draws: 20_000 });
    if (answer.crosses === null) throw new Error(JSON.stringify(answer.problems));
    // more daughters live of a dam whose brood is less alike: each dam counts by the viability of her brood
    let [alike, whole] = [0, 0];
    for (let k = 0; k < crosses.length; k += 2) {
      const [dam, virgin] = [answer.crosses[k], answer.crosses[k + 1]];
      whole += dam?.expectedViability ?? Number.NaN;
      alike += (dam?.expectedViability ?? Number.NaN) * (1 - (virgin?.expectedViability ?? Number.NaN));
    }
    const p = [0.3, 0.2, 0.2, 0.1, 0.1, 0.1];
    const sum = (power: number) => p.reduce((total, one) => total + one ** power, 0);
    expect((sum(2) - sum(3)) / (1 - sum(2))).toBeCloseTo(0.1925, 12);
    expect(Math.abs(alike / whole - 0.1925)).toBeLessThan(within(0.05, 100_000));
  });

  test('a typed daughter tells about her untyped dam, as Bayes says', () => {
    // k = 4; Q = {1,2} from founder M and one open drone; what is M, and how viable is Q × very many drones of M?
    const k = 4;
    let weight = 0;
    let mean = 0;
    for (let a = 0; a < k; a++) {
      for (let b = a + 1; b < k; b++) {
        for (let x = 0; x < k; x++) {
          const eggs = [a, b].filter((egg) => egg !== x);
          const chance = eggs.filter((egg) => (egg === 0 && x === 1) || (egg === 1 && x === 0)).length / eggs.length;
          const shared = [a, b].filter((allele) => allele < 2).length;
          weight += chance;
          mean += chance * (1 - 0.25 * shared);
        }
      }
    }
    const facts: PedigreeFacts = {
      queens: [
        { id: 'M', pool: 's' },
        { id: 'Q', dam: 'M' },
      ],
      pools: [{ id: 's', sources: [{ open: true, share: 1, drones: 1 }] }],
    };
    const evidence: Evidence = { alleles: [{ queen: 'Q', alleles: ['x', 'y'] }], counts: [] };
    const found = outlook(facts, 'Q', [drones('M', MANY)], { alleles: k, evidence });
    expect(Math.abs(found.expectedViability - mean / weight)).toBeLessThan(0.01);
  });

  test('a brood count moves the outlook of the same pool as Bayes says', () => {
    const k = 6;
    const facts: PedigreeFacts = {
      queens: [{ id: 'Q', pool: 's' }],
      pools: [{ id: 's', sources: [{ open: true, share: 1, drones: 3 }] }],
    };
    const evidence: Evidence = { alleles: [], counts: [{ queen: 'Q', viable: 32, cells: 40 }] };
    const found = outlook(facts, 'Q', [{ pool: 's', share: 1, draws: null }], { alleles: k, evidence });
    let weight = 0;
    let mean = 0;
    for (const [x, ways] of [1, 3, 3, 1].entries()) {
      const v = 1 - x / 6;
      const chance = ways * (2 / k) ** x * (1 - 2 / k) ** (3 - x) * (v === 1 ? 0 : v ** 32 * (1 - v) ** 8);
      weight += chance;
      mean += chance * v;
    }
    expect(Math.abs(found.expectedViability - mean / weight)).toBeLessThan(0.005);
    expect(found.effectiveDraws).toBeLessThan(20_000);
  });

  test('evidence that cannot be is named', () => {
    const facts = { queens: [{ id: 'M' }, { id: 'Q', dam: 'M' }, { id: 'G', sisters: 3 }], pools: [] };
    const problems = (evidence: Evidence, alleles = 12) =>
      broodOutlook(lay(facts), [], { evidence, alleles, draws: 500 }).problems.map((p) => [p.path, p.code]);
    const typed = (queen: string, one: string, two: string) => ({ queen, alleles: [one, two] as const });
    expect(
      problems({ alleles: [typed('X', '1', '2'), typed('G', '1', '2'), typed('M', '1', '1')], counts: [] }),
    ).toEqual([
      ['alleles.0.queen', 'brood-evidence-queen-unknown'],
      ['alleles.1.queen', 'brood-evidence-group'],
      ['alleles.2', 'brood-alleles-alike'],
    ]);
    expect(problems({ alleles: [typed('M', '1', '2'), typed('M', '1', '3')], counts: [] }, 2)).toEqual([
      ['alleles.1.queen', 'brood-alleles-twice'],
      ['alleles', 'brood-alleles-too-many'],
    ]);
    expect(problems({ alleles: [], counts: [{ queen: 'M', viable: 5, cells: 4 }] })).toEqual([
      ['counts.0', 'brood-count-impossible'],
    ]);
    expect(problems({ alleles: [typed('M', '1', '2'), typed('Q', '3', '4')], counts: [] })).toEqual([
      ['alleles', 'brood-evidence-contradicts'],
    ]);
    expect(problems({ alleles: [], counts: [{ queen: 'M', viable: 0, cells: 4000 }] })).toEqual([
      ['counts', 'brood-evidence-contradicts'],
    ]);
  });
});

test('the same seed gives the same answer, whatever else is asked; another seed another', () => {
  const pedigree = lay(randomStock(3));
  const cross = { queen: 'q4-0', sources: [drones('q3-1', 7), drones('q2-2', 3)] };
  const ask = (crosses: (typeof cross)[], seed: number) =>
    broodOutlook(pedigree, crosses, { seed, draws: 3000 }).crosses;
  expect(ask([cross], 5)).toEqual(ask([cross, { ...cross, queen: 'q4-1' }], 5)?.slice(0, 1));
  expect(ask([cross], 5)).not.toEqual(ask([cross], 6));
});

test('on stocks of every mating viability lies in ½ … 1 and a virgin behaves as a daughter', () => {
  for (let seed = 50; seed < 60; seed++) {
    const pedigree = lay(randomStock(seed));
    const { crosses } = broodOutlook(
      pedigree,
      pedigree.stock.names.queenId(0) ? [{ daughterOf: 'q1-0', sources: [drones('q3-0', 9)] }] : [],
      { draws: 500 },
    );
    const viability = crosses?.[0]?.expectedViability ?? 0;
    expect(viability).toBeGreaterThanOrEqual(0.5);
    expect(viability).toBeLessThanOrEqual(1);
  }
});

test('drones are made whole by largest remainder', () => {
  expect(wholeDrones([6, 4])).toEqual([6, 4]);
  expect(wholeDrones([6.5, 3.1, 0.4])).toEqual([6, 3, 1]);
  expect(wholeDrones([3.3, 3.3, 3.4])).toEqual([3, 3, 4]);
  expect(wholeDrones([0.6, 0.4])).toEqual([1, 0]);
  expect(wholeDrones([9.6, 0.4])).toEqual([9, 1]);
  expect(wholeDrones([2.5, 2.5, 2.5, 2.5])).toEqual([3, 3, 2, 2]);
});
