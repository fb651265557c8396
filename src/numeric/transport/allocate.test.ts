import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allocate, wholeShares } from './allocate.ts';

/** All ways to send the units, by brute force: the least cost, or Infinity. */
function leastCost(supply: number[], demand: number[], cost: number[][]): number {
  const [units = 0, ...rest] = supply;
  if (supply.length === 0) return 0;
  let best = Number.POSITIVE_INFINITY;
  const spread = (j: number, left: number, open: number[], paid: number): void => {
    if (j === demand.length) {
      if (left === 0) best = Math.min(best, paid + leastCost(rest, open, cost.slice(1)));
      return;
    }
    for (let k = 0; k <= Math.min(left, open[j] ?? 0); k++) {
      const price = k === 0 ? 0 : k * (cost[0]?.[j] ?? 0);
      spread(
        j + 1,
        left - k,
        open.map((v, i) => (i === j ? v - k : v)),
        paid + price,
      );
    }
  };
  spread(0, units, demand, 0);
  return best;
}

// Oracle: enumeration of every allocation.
test('allocations cost as little as can be', () => {
  const cost = fc.oneof(
    { weight: 8, arbitrary: fc.integer({ min: 0, max: 9 }) },
    { weight: 1, arbitrary: fc.constant(Number.POSITIVE_INFINITY) },
  );
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 3 }),
      fc.array(fc.array(cost, { minLength: 3, maxLength: 3 }), { minLength: 3, maxLength: 3 }),
      fc.nat(),
      (supply, costs, cut) => {
        const total = supply.reduce((a, b) => a + b, 0);
        const first = cut % (total + 1);
        const second = Math.floor((total - first) / 2);
        const demand = [first, second, total - first - second];
        const flow = allocate({ supply, demand, cost: (i, j) => costs[i]?.[j] ?? 0 });
        const best = leastCost(supply, demand, costs);
        if (flow === null) expect(best).toBe(Number.POSITIVE_INFINITY);
        else {
          expect(
            flow
              .flatMap((row, i) => row.map((units, j) => (units === 0 ? 0 : units * (costs[i]?.[j] ?? 0))))
              .reduce((a, b) => a + b, 0),
          ).toBe(best);
          for (const [i, row] of flow.entries()) expect(row.reduce((a, b) => a + b, 0)).toBe(supply[i]);
        }
      },
    ),
    { numRuns: 300, seed: 8 },
  );
});

// Linear programme = full enumeration (worked example of an insemination day with three families and four batches).
test('a worked example', () => {
  const F = [
    [0.25, 0.06, 0.125, 0.03],
    [0.031, 0.2, 0.094, 0.062],
    [0.125, 0.031, 0.281, 0.047],
  ];
  const V = [
    [0.75, 0.92, 0.86, 0.95],
    [0.94, 0.78, 0.9, 0.92],
    [0.86, 0.95, 0.72, 0.93],
  ];
  const cost = (i: number, j: number) =>
    j === 4 ? 0 : (V[i]?.[j] ?? 0) < 0.85 ? Number.POSITIVE_INFINITY : (F[i]?.[j] ?? 0);
  // room for 32, 24 asked for: a fourth family of nobody takes the rest
  const flow = allocate({ supply: [10, 8, 6, 8], demand: [8, 8, 8, 8], cost: (i, j) => (i === 3 ? 0 : cost(i, j)) });
  expect(flow?.slice(0, 3)).toEqual([
    [0, 2, 0, 8],
    [8, 0, 0, 0],
    [0, 6, 0, 0],
  ]);
});

test('whole shares add up, by largest remainder, within their limits', () => {
  expect(wholeShares([0.5, 0.3, 0.2], 10)).toEqual([5, 3, 2]);
  expect(wholeShares([0.55, 0.25, 0.2], 10)).toEqual([6, 2, 2]);
  expect(wholeShares([0.9, 0.1], 10, [4, 10])).toEqual([4, 6]);
  expect(wholeShares([0, 0], 3)).toEqual([2, 1]);
});
