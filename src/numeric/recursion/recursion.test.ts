import { describe, expect, test } from 'vitest';
import { foundersOf, gatherFounders, makeFounderSets, mayMeet } from './founder-sets.ts';
import { inverseColumns } from './inverse-columns.ts';
import { partColumns } from './part-columns.ts';
import { covarianceOfPair, covarianceWith, depthOf, makeWalk, type Recursion, seed, settle } from './recursion.ts';

/** Terms of a random row: ½ and all, ½ of one, any weights, or those of the row before it. */
function randomTerms(i: number, before: readonly [number, number][], next: () => number): [number, number][] {
  const kind = next();
  const older = () => Math.floor(next() * i);
  if (i === 0 || kind < 0.1) return [];
  if (kind < 0.4) return before.map(([p, w]): [number, number] => [p, w]);
  const [one, other] = [older(), older()];
  if (kind < 0.6 && one !== other)
    return [
      [one, 0.5],
      [other, 1],
    ];
  if (kind < 0.7) return [[one, 0.5]];
  const terms = new Map<number, number>();
  for (let k = Math.floor(next() * 4); k > 0; k--) terms.set(older(), next());
  return [...terms];
}

/** A random recursion, and its covariance matrix by the definition A_ij = Σ w A_pj, A_ii = w'Aw + own. Rows alike share their own variance. */
function example(size: number, next: () => number, least = 0): { recursion: Recursion; dense: number[][] } {
  const rows: { terms: [number, number][]; own: number }[] = [];
  for (let i = 0; i < size; i++) {
    const before = rows.at(-1) ?? { terms: [], own: 1 };
    const terms = randomTerms(i, before.terms, next);
    const isLikeBefore = terms.length > 0 && JSON.stringify(terms) === JSON.stringify(before.terms);
    const own = isLikeBefore ? before.own : next() < 0.2 ? least : least + next();
    rows.push({ terms, own });
  }
  const start = [0];
  const level: number[] = [];
  for (const { terms } of rows) {
    start.push((start.at(-1) ?? 0) + terms.length);
    level.push(terms.length === 0 ? 0 : 1 + Math.max(...terms.map(([p]) => level[p] ?? 0)));
  }
  const dense: number[][] = [];
  for (const [i, { terms, own }] of rows.entries()) {
    const row = Array.from({ length: i }, (_, j) =>
      terms.reduce((sum, [p, w]) => sum + w * (dense[Math.max(p, j)]?.[Math.min(p, j)] ?? 0), 0),
    );
    row.push(own + terms.reduce((sum, [p, w]) => sum + w * (row[p] ?? 0), 0));
    dense.push(row);
  }
  const recursion = {
    size,
    start: Int32Array.from(start),
    older: Int32Array.from(rows.flatMap(({ terms }) => terms.map(([p]) => p))),
    weight: Float64Array.from(rows.flatMap(({ terms }) => terms.map(([, w]) => w))),
    own: Float64Array.from(rows.map(({ own }) => own)),
    level: Int32Array.from(level),
  };
  return { recursion, dense };
}

/** Minimal standard generator (Park and Miller 1988). */
const uniform = (seedValue: number) => {
  let state = seedValue;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
};

const at = (dense: number[][], i: number, j: number) => dense[Math.max(i, j)]?.[Math.min(i, j)] ?? Number.NaN;

describe('against the definition on random recursions', () => {
  const cases = [1, 2, 3, 4, 5].map((s) => example(60, uniform(s * 7919)));
  test('a walk gives any element', () => {
    for (const { recursion, dense } of cases) {
      const walk = makeWalk(recursion);
      for (let i = 0; i < 60; i++) {
        for (let j = 0; j < 60; j++) {
          seed(walk, i, 1, 0);
          seed(walk, j, 0, 1);
          expect(settle(walk)).toBeCloseTo(at(dense, i, j), 9);
        }
      }
    }
  });
  test('a walk gives the covariance of two combinations', () => {
    for (const { recursion, dense } of cases) {
      const walk = makeWalk(recursion);
      seed(walk, 59, 0.5, 0);
      seed(walk, 41, 0.25, 1);
      seed(walk, 3, 0, 2);
      const expected = 0.5 * at(dense, 59, 41) + at(dense, 59, 3) + 0.25 * at(dense, 41, 41) + 0.5 * at(dense, 41, 3);
      expect(settle(walk)).toBeCloseTo(expected, 9);
    }
  });
  test('two sweeps give a column', () => {
    for (const { recursion, dense } of cases) {
      for (const j of [0, 17, 59]) {
        const h = new Float64Array(60);
        h[j] = 1;
        const column = covarianceWith(recursion, h);
        for (let i = 0; i < 60; i++) expect(column[i]).toBeCloseTo(at(dense, i, j), 9);
      }
    }
  });
});

test('the inverse by columns times the matrix is the identity, rows rising', () => {
  for (const s of [11, 12, 13, 14, 15, 16]) {
    const size = 80;
    const { recursion, dense } = example(size, uniform(s * 6151), 0.2);
    const { start, row, value } = inverseColumns(recursion);
    for (let j = 0; j < size; j++) {
      const product = new Float64Array(size);
      for (let k = start[j] as number; k < (start[j + 1] as number); k++) {
        if (k > (start[j] as number)) expect(row[k]).toBeGreaterThan(row[k - 1] as number);
        for (let i = 0; i < size; i++)
          product[i] = (product[i] as number) + at(dense, i, row[k] as number) * (value[k] as number);
      }
      for (let i = 0; i < size; i++) expect(product[i]).toBeCloseTo(i === j ? 1 : 0, 8);
    }
  }
});

test('a walk towards shared founders gives any element; rows said to share none have covariance 0, and many are said to', () => {
  let apart = 0;
  for (const s of [21, 22, 23, 24, 25]) {
    const { recursion, dense } = example(60, uniform(s * 3571), 0.1);
    const { size } = recursion;
    const sets = makeFounderSets(recursion);
    for (let i = 0; i < size; i++) if (sets.at[i] !== 0) gatherFounders(sets, recursion, i);
    const walk = makeWalk(recursion);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        expect(covarianceOfPair(walk, sets, i, j)).toBeCloseTo(at(dense, i, j), 9);
        if (i === j || mayMeet(sets.word, foundersOf(sets, recursion, i, 0), foundersOf(sets, recursion, j, 1)))
          continue;
        apart++;
        expect(at(dense, i, j)).toBe(0);
      }
    }
  }
  expect(apart).toBeGreaterThan(100);
});

test('a part of a column is that part of it, whatever was asked before', () => {
  const { recursion, dense } = example(60, uniform(4099));
  const partOfColumn = partColumns(recursion);
  for (const one of [0, 17, 59, 17, 30]) {
    const others = [59, 3, one, 41, 3];
    const part = partOfColumn(one, others);
    expect(part.length).toBe(others.length);
    for (const [k, other] of others.entries()) expect(part[k]).toBeCloseTo(at(dense, one, other), 9);
  }
});

test('rows without a common older row have covariance exactly 0', () => {
  const recursion = {
    size: 4,
    start: Int32Array.of(0, 0, 0, 1, 2),
    older: Int32Array.of(0, 1),
    weight: Float64Array.of(0.3, 0.7),
    own: Float64Array.of(1, 1, 0.1, 0.1),
    level: Int32Array.of(0, 0, 1, 1),
  };
  expect(depthOf(recursion)).toBe(2);
  const walk = makeWalk(recursion);
  seed(walk, 2, 1, 0);
  seed(walk, 3, 0, 1);
  expect(settle(walk)).toBe(0);
});
