import { describe, expect, test } from 'vitest';
import { covarianceWith, depthOf, makeWalk, type Recursion, seed, settle } from './recursion.ts';

/** A random recursion, and its covariance matrix by the definition A_ij = Σ w A_pj, A_ii = w'Aw + own. */
function example(size: number, next: () => number): { recursion: Recursion; dense: number[][] } {
  const rows = Array.from({ length: size }, (_, i) => {
    const terms = new Map<number, number>();
    const count = i === 0 ? 0 : Math.floor(next() * 4);
    for (let k = 0; k < count; k++) terms.set(Math.floor(next() * i), next());
    return { terms: [...terms], own: next() < 0.2 ? 0 : next() };
  });
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
