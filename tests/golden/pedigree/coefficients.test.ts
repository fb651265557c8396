import { describe, expect, test } from 'vitest';
import type { PoolFact, QueenFact, SourceFact } from '#domain/pedigree/facts.ts';
import { broodInbreeding, coancestry, groupRelationship, relationship } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { plannedCross } from '#domain/pedigree/planned-cross.ts';

const drones = (queen: string, number: number, share = 1): SourceFact => ({ queen, share, drones: number });
const open = (number: number): SourceFact => ({ open: true, share: 1, drones: number });
const pool = (id: string, ...sources: SourceFact[]): PoolFact => ({ id, sources });

function lay(queens: QueenFact[], pools: PoolFact[]) {
  const laid = layPedigreeOf({ queens: [{ id: 'M' }, { id: 'Z' }, { id: 'U' }, ...queens], pools });
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return laid.pedigree;
}
const daughter = (id: string, fromPool: string, dam = 'M'): QueenFact => ({ id, dam, fromPool });

// Haplodiploid textbook coefficients (Crozier and Pamilo 1996; Hamilton 1964), non-inbred; the sisters' mean is ¼ + ½ Σ s².
describe('relationship of sisters', () => {
  const sisters = (...sources: SourceFact[]) =>
    relationship(lay([daughter('A', 's'), daughter('B', 's')], [pool('s', ...sources)]), 'A', 'B');
  test.each([
    [1, 0.75],
    [2, 0.5],
    [5, 0.35],
    [8, 0.3125],
    [10, 0.3],
    [12, 0.291666666666667],
    [20, 0.275],
  ])('%d unrelated drones', (n, expected) => expect(sisters(open(n))).toBeCloseTo(expected, 12));
  test.each([
    [1, 0.75],
    [8, 0.53125],
    [10, 0.525],
    [1e15, 0.5],
  ])('%d drones of one unrelated mother', (n, expected) => expect(sisters(drones('Z', n))).toBeCloseTo(expected, 12));
  test('unequal shares of unrelated drones', () => {
    const shares = [0.4, 0.2, 0.1, 0.1, 0.1, 0.05, 0.05];
    expect(sisters(...shares.map((share): SourceFact => ({ open: true, share, drones: 1 })))).toBeCloseTo(0.3675, 12);
    // one open source with the effective number 1 / Σ s² is the same thing
    expect(sisters(open(1 / 0.235))).toBeCloseTo(0.3675, 12);
  });
  test('drones of two super-sister mothers', () => {
    const pedigree = lay(
      [daughter('X', 't', 'Z'), daughter('Y', 't', 'Z'), daughter('A', 'x'), daughter('B', 'y')],
      [pool('t', open(1)), pool('x', drones('X', 1)), pool('y', drones('Y', 1))],
    );
    expect(relationship(pedigree, 'A', 'B')).toBeCloseTo(0.25 + 0.25 * 0.75, 12);
  });
  test('mother and daughter, half-sisters, unrelated', () => {
    const pedigree = lay([daughter('A', 's'), daughter('B', 't')], [pool('s', open(1)), pool('t', open(1))]);
    expect(relationship(pedigree, 'M', 'A')).toBe(0.5);
    expect(relationship(pedigree, 'A', 'B')).toBe(0.25);
    expect(relationship(pedigree, 'M', 'Z')).toBe(0);
    expect(relationship(pedigree, 'A', 'A')).toBe(1);
    expect(coancestry(pedigree, 'M', 'A')).toBe(0.25);
  });
  test('a group that is half A and half B', () => {
    const pedigree = lay([daughter('A', 's'), daughter('B', 's')], [pool('s', open(1))]);
    expect(
      groupRelationship(pedigree, [
        { queen: 'A', share: 3 },
        { queen: 'B', share: 3 },
      ]),
    ).toBeCloseTo(0.875, 12);
  });
});

// By hand: F = coancestry of the queen and the drones' mother (path counting, Wright 1922, with sons identical to a gamete).
describe('inbreeding of the brood', () => {
  const one = pool('one', drones('Z', 1));
  const many = pool('many', drones('Z', 10));
  const flown = pool('flown', open(12));
  const queen = (dam: string, from: string, carries: string): QueenFact => ({
    id: 'q',
    dam,
    fromPool: from,
    pool: carries,
  });
  const cases: [string, QueenFact[], PoolFact[], string, number][] = [
    ['her own drones', [{ id: 'q', pool: 's' }], [pool('s', drones('q', 5))], 'q', 0.5],
    ['her brothers', [queen('M', 'one', 's')], [one, pool('s', drones('M', 8))], 'q', 0.25],
    [
      'drones of her daughter',
      [daughter('a', 'one', 'q'), { id: 'q', pool: 's' }],
      [one, pool('s', drones('a', 8))],
      'q',
      0.25,
    ],
    ["drones of her father's mother", [queen('M', 'one', 's')], [one, pool('s', drones('Z', 8))], 'q', 0.25],
    [
      'drones of a super-sister',
      [queen('M', 'one', 's'), daughter('t', 'one')],
      [one, pool('s', drones('t', 8))],
      'q',
      0.375,
    ],
    [
      'drones of an average sister, 10 drones',
      [queen('M', 'many', 's'), daughter('t', 'many')],
      [many, pool('s', drones('t', 8))],
      'q',
      0.2625,
    ],
    [
      'drones of an average sister, open mated',
      [queen('M', 'flown', 's'), daughter('t', 'flown')],
      [flown, pool('s', drones('t', 8))],
      'q',
      0.25 * (0.25 + 0.5 / 12) * 2,
    ],
    [
      'drones of a half-sister',
      [queen('M', 'one', 's'), daughter('t', 'other')],
      [one, pool('other', drones('U', 1)), pool('s', drones('t', 8))],
      'q',
      0.125,
    ],
    [
      "drones of her mother's super-sister",
      [daughter('d', 'one'), daughter('t', 'one'), queen('d', 'u', 's')],
      [one, pool('u', drones('U', 1)), pool('s', drones('t', 8))],
      'q',
      0.1875,
    ],
    [
      'cousins, mothers super-sisters',
      [daughter('a', 'one'), daughter('b', 'one'), queen('a', 'u', 's'), daughter('d', 'v', 'b')],
      [one, pool('u', drones('U', 1)), pool('v', open(1)), pool('s', drones('d', 8))],
      'q',
      0.09375,
    ],
  ];
  test.each(cases)('%s', (_, queens, pools, of, expected) => {
    const pedigree = lay(queens, pools);
    expect(broodInbreeding(pedigree, of)).toBeCloseTo(expected, 12);
    const sources = pools.find((p) => p.id === 's')?.sources ?? [];
    expect(plannedCross(pedigree, { queen: of, sources }).inbreeding).toBeCloseTo(expected, 12);
  });
});

// By hand: A_SS = ½ p1 + ¼(1+F) p2 + ¼ ā p3 with p1 = 1/N, p2 = 1/J − 1/N, p3 = 1 − 1/J (balanced drones of J sisters).
test.each([
  [8, 12, 10, 0.166927083333333],
  [8, 8, 1, 0.2265625],
  [4, 10, 20, 0.1390625],
])('station of %d sisters, %d drones', (sisters, number, fathers, expected) => {
  // sisters with mutual relationship .525 (10 drones of one mother), .75 (one drone), .275 (20 unrelated drones)
  const father = fathers === 20 ? open(20) : drones('Z', fathers);
  const pedigree = lay(
    [
      { id: 'G', dam: 'M', fromPool: 's', sisters },
      { id: 'q', dam: 'U', fromPool: 'g' },
      { id: 'r', dam: 'U', fromPool: 'g' },
    ],
    [pool('s', father), pool('g', drones('G', number))],
  );
  expect(relationship(pedigree, 'q', 'r')).toBeCloseTo(0.25 + expected, 12);
});

// Worked example E5: A_SS = ½p1 + ¼p2 + ¼ā p3 with p1 = 1/N, p2 = (1 − 1/N)/J, p3 = (1 − 1/N)(1 − 1/J), by hand; sister queens ¼ + A_SS.
describe('drones drawn at random from the mothers of a mating place', () => {
  const all = Number.POSITIVE_INFINITY;
  const daughters: QueenFact[] = [
    { id: 'q', dam: 'U', fromPool: 'met' },
    { id: 'r', dam: 'U', fromPool: 'met' },
  ];
  const met = (draws: number) => pool('met', { pool: 'place', share: 1, draws });
  test.each([
    [4, 10, open(20), 0.152656],
    [8, 8, drones('Z', 1), 0.233398],
    [8, 12, drones('Z', 10), 0.175586],
  ])('%d sisters, %d drones', (sisters, number, father, expected) => {
    const group: QueenFact = { id: 'G', dam: 'M', fromPool: 's', sisters };
    const pools = [pool('s', father), pool('place', drones('G', all)), met(number)];
    expect(relationship(lay([group, ...daughters], pools), 'q', 'r')).toBeCloseTo(0.25 + expected, 6);
    // the same mothers recorded one by one
    const named = Array.from({ length: sisters }, (_, k) => daughter(`g${k}`, 's'));
    const place = pool('place', ...named.map(({ id }) => drones(id, all, 1 / sisters)));
    const pedigree = lay([...named, ...daughters], [pool('s', father), place, met(number)]);
    expect(relationship(pedigree, 'q', 'r')).toBeCloseTo(0.25 + expected, 6);
    const p1 = 1 / number;
    const alike = relationship(pedigree, 'g0', 'g1');
    const byHand = 0.5 * p1 + 0.25 * ((1 - p1) / sisters) + 0.25 * alike * (1 - p1) * (1 - 1 / sisters);
    expect(relationship(pedigree, 'q', 'r')).toBeCloseTo(0.25 + byHand, 12);
  });
  test('one mother alone: nothing is left to chance but her drones', () => {
    const pedigree = lay(daughters, [pool('place', drones('Z', all)), met(8)]);
    expect(relationship(pedigree, 'q', 'r')).toBeCloseTo(0.53125, 12);
  });
});

test('a single drone of an unrecorded sister is a single drone', () => {
  const pedigree = lay(
    [
      { id: 'G', dam: 'M', fromPool: 's', sisters: 5 },
      { id: 'q', dam: 'U', fromPool: 'g' },
      { id: 'r', dam: 'U', fromPool: 'g' },
    ],
    [pool('s', open(3)), pool('g', drones('G', 1))],
  );
  expect(relationship(pedigree, 'q', 'r')).toBeCloseTo(0.75, 12);
});

describe('what a planned cross gives', () => {
  test('sister relationship and breadth equal those of the same cross written down', () => {
    const pools = [
      pool('one', drones('Z', 1)),
      pool('s', drones('M', 6, 0.6), drones('U', 4, 0.4)),
      pool('batch', drones('U', 7)),
    ];
    const queens = [daughter('q', 'one'), daughter('a', 's', 'q'), daughter('b', 's', 'q')];
    const pedigree = lay(queens, pools);
    const outlook = plannedCross(pedigree, { queen: 'q', sources: pools[1]?.sources ?? [] });
    expect(outlook.sisterRelationship).toBeCloseTo(relationship(pedigree, 'a', 'b'), 12);
    const drawn = plannedCross(pedigree, { queen: 'q', sources: [{ pool: 'batch', share: 1, draws: 1 }] });
    expect(drawn.poolSelf).toBeCloseTo(0.5, 12);
  });
  test('a virgin still to be raised counts as an average daughter', () => {
    const pedigree = lay([{ id: 'q', pool: 'one' }, daughter('a', 'one', 'q')], [pool('one', drones('Z', 1))]);
    const sources = [drones('Z', 4)];
    expect(plannedCross(pedigree, { daughterOf: 'q', sources }).inbreeding).toBeCloseTo(
      plannedCross(pedigree, { queen: 'a', sources }).inbreeding,
      12,
    );
  });
});

// Brascamp and Bijma 2014 (Genet Sel Evol 46:53): full-sib families with their worker group form blocks of residual covariance.
test('the block form: daughters and worker groups of one family', () => {
  const pedigree = lay(
    [
      daughter('Q1', 's'),
      daughter('Q2', 's'),
      { id: 'R', dam: 'Q1', fromPool: 't' },
      { id: 'S', dam: 'Q1', fromPool: 't' },
    ],
    [pool('s', drones('Z', 10)), pool('t', drones('Z', 5))],
  );
  expect(relationship(pedigree, 'Q1', 'Q2')).toBeCloseTo(0.525, 12); // also of a queen with her sisters' workers
  expect(relationship(pedigree, 'R', 'S')).toBeCloseTo(0.8, 12); // Q1 × 5 drones of her father's mother, F = .25
  expect(relationship(pedigree, 'R', 'R')).toBeCloseTo(1.25, 12);
  const node = (id: string) => pedigree.queenNode[pedigree.stock.names.queenIndex(id)] ?? -1;
  const semen = (id: string) => pedigree.poolNode[pedigree.stock.names.poolIndex(id)] ?? -1;
  const own = (n: number) => pedigree.recursion.own[n] ?? Number.NaN;
  // residual block = d_S 11' + diag(d_i, 0): .025 between all, .475 more on the daughters; second family .05 and .45
  expect(own(semen('s'))).toBeCloseTo(0.025, 12);
  expect(own(node('Q1'))).toBeCloseTo(0.475, 12);
  expect(own(semen('t'))).toBeCloseTo(0.05, 12);
  expect(own(node('R')) + own(semen('t'))).toBeCloseTo(0.5, 12);
});
