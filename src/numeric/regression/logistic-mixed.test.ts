import { describe, expect, test } from 'vitest';
import { randomStream } from '../random/random-stream.ts';
import { scaled } from './features.ts';
import { laplaceAt } from './laplace-slope.ts';
import { logistic } from './logistic.ts';
import { logisticMixed, type MixedFit } from './logistic-mixed.ts';

/** Outcomes of two crossed factors and two features. */
function drawn(seed: number, n = 150) {
  const random = randomStream(seed);
  const levels = (count: number, spread: number) => Array.from({ length: count }, () => spread * random.normal());
  const [a, b] = [levels(12, 0.9), levels(4, 0.7)];
  return Array.from({ length: n }, () => {
    const [one, other] = [random.below(12), random.below(4)];
    const x = [5 + random.normal(), random.below(2)] as const;
    const log = 0.5 + 0.4 * (x[0] - 5) - 0.6 * x[1] + (a[one] as number) + (b[other] as number);
    return { one, other, x, y: random.uniform() < logistic(log) ? 1 : 0 };
  });
}
type Drawn = ReturnType<typeof drawn>;

const tableOf = (rows: Drawn) => ({
  successes: Float64Array.from(rows, ({ y }) => y),
  trials: new Float64Array(rows.length).fill(1),
});
const featuresOf = (rows: Drawn) => ({ values: Float64Array.from(rows.flatMap(({ x }) => x)), columns: 2 });
const factorsOf = (rows: Drawn) => [
  { levels: 12, of: Int32Array.from(rows, ({ one }) => one) },
  { levels: 4, of: Int32Array.from(rows, ({ other }) => other) },
];
function fitOf(rows: Drawn): MixedFit {
  const fit = logisticMixed(tableOf(rows), featuresOf(rows), factorsOf(rows));
  if ('refused' in fit) throw new Error(fit.refused);
  return fit;
}

describe('the Laplace likelihood', () => {
  test('its slope is that of second differences', () => {
    const rows = drawn(1);
    const mixed = { table: tableOf(rows), features: scaled(featuresOf(rows)), factors: factorsOf(rows) };
    const place = Float64Array.of(0.3, 0.2, -0.4, 0.8, 0.5);
    const at = (p: Float64Array) => laplaceAt(mixed, p, new Float64Array(16));
    const { slope } = at(place);
    place.forEach((value, k) => {
      const [up, down] = [1e-5, -1e-5].map((h) => at(place.with(k, value + h)).logLikelihood) as [number, number];
      expect(slope[k]).toBeCloseTo((up - down) / 2e-5, 5);
    });
  });

  test('it is near the integral over the levels by brute force', () => {
    // 30 levels with five trials each: Laplace is within a hundredth of the exact integral.
    const random = randomStream(3);
    const successes = Float64Array.from({ length: 30 }, () => random.below(6));
    const table = { successes, trials: new Float64Array(30).fill(5) };
    const factors = [{ levels: 30, of: Int32Array.from({ length: 30 }, (_, i) => i) }];
    const none = { values: new Float64Array(0), columns: 0 };
    const laplace = laplaceAt(
      { table, features: scaled(none), factors },
      Float64Array.of(0.2, 0.7),
      new Float64Array(30),
    );
    let exact = 0;
    for (const y of successes) {
      let sum = 0;
      for (let z = -8; z <= 8; z += 0.01) {
        const share = logistic(0.2 + 0.7 * z);
        sum += share ** y * (1 - share) ** (5 - y) * Math.exp((-z * z) / 2) * 0.01;
      }
      exact += Math.log(sum / Math.sqrt(2 * Math.PI));
    }
    expect(Math.abs(laplace.logLikelihood - exact)).toBeLessThan(0.01 * Math.abs(exact));
  });
});

describe('what does not matter to a logistic regression with random levels', () => {
  const rows = drawn(2);
  const fit = fitOf(rows);
  test('the order of rows, the names of levels, the order of factors', () => {
    const turned = [...rows].reverse().map((row) => ({ ...row, one: 11 - row.one }));
    const again = fitOf(turned);
    expect(again.logLikelihood).toBeCloseTo(fit.logLikelihood, 8);
    expect(again.coefficients[0]).toBeCloseTo(fit.coefficients[0] as number, 6);
    expect(again.factors[0]?.values[11]).toBeCloseTo(fit.factors[0]?.values[0] as number, 6);
    const [first, second] = factorsOf(rows);
    if (first === undefined || second === undefined) throw new Error('two factors');
    const swapped = logisticMixed(tableOf(rows), featuresOf(rows), [second, first]);
    expect(swapped).toHaveProperty('logLikelihood');
    if ('logLikelihood' in swapped) expect(swapped.factors[1]?.spread).toBeCloseTo(fit.factors[0]?.spread as number, 6);
  });
  test('a large constant added to a feature, and its unit', () => {
    const moved = fitOf(rows.map((row) => ({ ...row, x: [row.x[0] * 100 + 1e6, row.x[1]] as const })));
    expect(moved.coefficients[0]).toBeCloseTo((fit.coefficients[0] as number) / 100, 7);
    expect(moved.standardErrors[1]).toBeCloseTo((fit.standardErrors[1] as number) / 100, 6);
    expect(moved.logLikelihood).toBeCloseTo(fit.logLikelihood, 6);
    // The intercept moves back by as much as the feature moved on.
    expect(moved.intercept + (moved.coefficients[0] as number) * 1e6).toBeCloseTo(fit.intercept, 3);
  });
  test('single outcomes, or the same counted together', () => {
    const cells = new Map<string, { row: Drawn[number]; y: number; m: number }>();
    for (const row of rows) {
      const key = `${row.one} ${row.other} ${row.x[1]}`;
      const cell = cells.get(key) ?? { row, y: 0, m: 0 };
      cells.set(key, { ...cell, y: cell.y + row.y, m: cell.m + 1 });
    }
    const single = logisticMixed(
      tableOf(rows),
      { values: Float64Array.from(rows, ({ x }) => x[1]), columns: 1 },
      factorsOf(rows),
    );
    const counted = [...cells.values()];
    const together = logisticMixed(
      { successes: Float64Array.from(counted, ({ y }) => y), trials: Float64Array.from(counted, ({ m }) => m) },
      { values: Float64Array.from(counted, ({ row }) => row.x[1]), columns: 1 },
      factorsOf(counted.map(({ row }) => row)),
    );
    if ('refused' in single || 'refused' in together) throw new Error('refused');
    expect(together.coefficients[0]).toBeCloseTo(single.coefficients[0] as number, 6);
    expect(together.factors[0]?.spread).toBeCloseTo(single.factors[0]?.spread as number, 6);
  });
});

describe('a spread that is not there, and answers that are not', () => {
  const of = (successes: number[], trials: number[], levels: number[], values: number[] = []) =>
    logisticMixed(
      { successes: Float64Array.from(successes), trials: Float64Array.from(trials) },
      { values: Float64Array.from(values), columns: values.length / successes.length },
      [{ levels: Math.max(...levels) + 1, of: Int32Array.from(levels) }],
    );
  test('levels all alike have spread 0 and the rate of all', () => {
    const fit = of([5, 5, 5, 5], [10, 10, 10, 10], [0, 1, 2, 3]);
    if ('refused' in fit) throw new Error(fit.refused);
    expect(fit.factors[0]?.spread).toBe(0);
    expect([...fit.fitted].map((share) => share.toFixed(6))).toEqual(Array(4).fill('0.500000'));
    expect(fit.intercept).toBeCloseTo(0, 8);
  });
  test('all succeeded', () => {
    expect(of([3, 4], [3, 4], [0, 1])).toEqual({ refused: 'all-alike', columns: [] });
  });
  test('fewer outcomes than coefficients', () => {
    expect(of([1, 0], [1, 1], [0, 1], [1, 2])).toEqual({ refused: 'too-few', columns: [] });
  });
  test('a column that says what another says', () => {
    expect(of([3, 4, 5], [6, 6, 6], [0, 1, 0], [1, 2, 2, 4, 0, 0])).toEqual({ refused: 'dependent', columns: [1] });
  });
  test('a column that parts successes from failures (separation)', () => {
    expect(of([6, 6, 2], [6, 6, 6], [0, 1, 0], [1, 1, 0])).toEqual({ refused: 'parted', columns: [0] });
  });
  test('a hundred small tables of every shape are answered with finite numbers or refused with a reason', () => {
    for (let seed = 1; seed <= 100; seed++) {
      const random = randomStream(seed);
      const [n, levels] = [15 + random.below(60), 2 + random.below(10)];
      const table = {
        successes: Float64Array.from({ length: n }, () => random.below(2 + random.below(3)) && 1),
        trials: new Float64Array(n).fill(1),
      };
      const values = Float64Array.from({ length: n }, () => random.normal() * 10 + 50);
      const factors = [levels, 3].map((count) => ({
        levels: count,
        of: Int32Array.from({ length: n }, () => random.below(count)),
      }));
      const fit = logisticMixed(table, { values, columns: 1 }, factors);
      if ('refused' in fit) expect(['all-alike', 'parted', 'levels-parted'], `seed ${seed}`).toContain(fit.refused);
      else
        expect([fit.logLikelihood, ...fit.standardErrors, ...fit.fitted].every(Number.isFinite), `seed ${seed}`).toBe(
          true,
        );
    }
  });
  test('a number that is none, whichever it is', () => {
    const [rows, plain] = [drawn(2), featuresOf(drawn(2))];
    const table = tableOf(rows);
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const features = { ...plain, values: plain.values.with(5, bad) };
      expect(logisticMixed(table, features, factorsOf(rows))).toEqual({ refused: 'not-finite', columns: [1] });
      const [successes, trials] = [table.successes.with(3, bad), table.trials.with(3, bad)];
      for (const odd of [
        { ...table, successes },
        { ...table, trials },
      ])
        expect(logisticMixed(odd, plain, factorsOf(rows))).toEqual({ refused: 'not-finite', columns: [] });
    }
  });
  test('levels that are all or none', () => {
    const levels = [0, 1, 2, 3, 4, 5];
    expect(of([40, 0, 40, 0, 40, 0], Array(6).fill(40), levels)).toMatchObject({ refused: 'levels-parted' });
  });
});
