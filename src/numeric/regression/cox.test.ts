import { describe, expect, test } from 'vitest';
import { isWatched } from '../chance/kaplan-meier.ts';
import { type GroupedCase, logRank } from '../chance/log-rank.ts';
import { randomStream } from '../random/random-stream.ts';
import { type CoxFit, coxRegression } from './cox.ts';

/** Cases with ties, late beginnings, two strata and two features; times are whole. */
function drawn(seed: number, n = 60) {
  const random = randomStream(seed);
  return Array.from({ length: n }, () => {
    const x = [random.normal(), random.below(2)] as const;
    const from = random.below(3) === 0 ? random.below(10) : 0;
    const time = from + 1 + Math.floor(-8 * Math.log(1 - random.uniform()) * Math.exp(-0.5 * x[0]));
    return { from, time, happened: random.below(4) > 0, group: random.below(3), stratum: random.below(2), x };
  });
}
type Drawn = ReturnType<typeof drawn>;

const tableOf = (cases: Drawn) => ({
  from: Float64Array.from(cases, ({ from }) => from),
  time: Float64Array.from(cases, ({ time }) => time),
  happened: Uint8Array.from(cases, ({ happened }) => Number(happened)),
  stratum: Int32Array.from(cases, ({ stratum }) => stratum),
});
const featuresOf = (cases: Drawn) => ({ values: Float64Array.from(cases.flatMap(({ x }) => x)), columns: 2 });
const fitOf = (cases: Drawn, ties: 'breslow' | 'efron' = 'efron'): CoxFit => {
  const fit = coxRegression(tableOf(cases), featuresOf(cases), ties);
  if ('refused' in fit) throw new Error(fit.refused);
  return fit;
};

/** The log partial likelihood straight from its definition: every event against everybody at risk. */
function slowly(cases: Drawn, b: ArrayLike<number>, ties: 'breslow' | 'efron'): number {
  const risk = ({ x }: Drawn[number]) => Math.exp(x[0] * (b[0] as number) + x[1] * (b[1] as number));
  const sum = (some: Drawn) => some.reduce((all, one) => all + risk(one), 0);
  let log = 0;
  for (const stratum of [0, 1])
    for (const time of new Set(cases.map((one) => one.time))) {
      const mine = cases.filter((one) => one.stratum === stratum);
      const tied = mine.filter((one) => one.time === time && one.happened);
      const at = mine.filter((one) => one.from < time && one.time >= time);
      tied.forEach((one, l) => {
        const off = ties === 'efron' ? (l / tied.length) * sum(tied) : 0;
        log += Math.log(risk(one)) - Math.log(sum(at) - off);
      });
    }
  return log;
}

describe.each(['breslow', 'efron'] as const)('Cox regression, %s ties', (ties) => {
  test.each([1, 2, 3])('the likelihood is that of its definition, and its top is a top (seed %i)', (seed) => {
    const cases = drawn(seed);
    const fit = fitOf(cases, ties);
    const [a = 0, b = 0] = fit.coefficients;
    expect(fit.logLikelihood).toBeCloseTo(slowly(cases, [a, b], ties), 8);
    expect(fit.logLikelihoodAtZero).toBeCloseTo(slowly(cases, [0, 0], ties), 8);
    for (const [i, j] of [
      [1e-3, 0],
      [-1e-3, 0],
      [0, 1e-3],
      [0, -1e-3],
    ] as const)
      expect(slowly(cases, [a + i, b + j], ties)).toBeLessThan(fit.logLikelihood);
    // The error from second differences of the definition.
    const h = 1e-3;
    const at = (i: number, j: number) => slowly(cases, [a + i * h, b + j * h], ties);
    const aa = (2 * at(0, 0) - at(1, 0) - at(-1, 0)) / h ** 2;
    const bb = (2 * at(0, 0) - at(0, 1) - at(0, -1)) / h ** 2;
    const ab = -(at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * h ** 2);
    expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(bb / (aa * bb - ab * ab)), 4);
  });
});

describe('what does not matter to a Cox regression', () => {
  const cases = drawn(4);
  const fit = fitOf(cases);
  test('the order of cases', () => {
    const turned = fitOf([...cases].reverse());
    turned.coefficients.forEach((value, k) => {
      expect(value).toBeCloseTo(fit.coefficients[k] as number, 10);
    });
  });
  test('a large constant added to a feature, and its unit', () => {
    const moved = fitOf(cases.map((one) => ({ ...one, x: [one.x[0] * 10 + 1e7, one.x[1]] as const })));
    // 1e7 leaves nine digits of the feature.
    expect(moved.coefficients[0]).toBeCloseTo((fit.coefficients[0] as number) / 10, 7);
    expect(moved.coefficients[1]).toBeCloseTo(fit.coefficients[1] as number, 6);
    expect(moved.logLikelihood).toBeCloseTo(fit.logLikelihood, 6);
  });
  test('any rising change of the clock', () => {
    const bent = fitOf(cases.map((one) => ({ ...one, from: one.from ** 3, time: one.time ** 3 })));
    expect(bent.coefficients[0]).toBeCloseTo(fit.coefficients[0] as number, 10);
  });
  test('somebody who was watched only when nothing happened', () => {
    const late = { from: 1000, time: 1001, happened: false, group: 0, stratum: 0, x: [9, 1] as const };
    expect(fitOf([...cases, late]).coefficients[0]).toBeCloseTo(fit.coefficients[0] as number, 8);
  });
});

describe('a Cox regression that has no answer says why', () => {
  const time = Float64Array.of(1, 2, 3, 4, 5, 6);
  const of = (happened: number[], values: number[], columns = 1) =>
    coxRegression({ time, happened: Uint8Array.from(happened) }, { values: Float64Array.from(values), columns });
  test('nothing happened', () => {
    expect(of([0, 0, 0, 0, 0, 0], [1, 2, 3, 4, 5, 6])).toEqual({ refused: 'all-alike', columns: [] });
  });
  test('a column the same for all, or a multiple of another', () => {
    expect(of([1, 1, 1, 0, 0, 0], [7, 7, 7, 7, 7, 7])).toEqual({ refused: 'dependent', columns: [0] });
    const twice = [1, 2, 0, 0, 3, 6, 1, 2, 4, 8, 2, 4];
    expect(of([1, 1, 1, 0, 1, 0], twice, 2)).toEqual({ refused: 'dependent', columns: [1] });
  });
  test('it happened only to those with the feature: no end (monotone likelihood)', () => {
    expect(of([1, 1, 1, 0, 0, 0], [1, 1, 1, 0, 0, 0])).toEqual({ refused: 'parted', columns: [0] });
    const beside = [1, 5, 1, 4, 1, 6, 0, 5, 0, 3, 0, 6];
    expect(of([1, 1, 1, 0, 0, 0], beside, 2)).toEqual({ refused: 'parted', columns: [0] });
  });
  test('a strong but finite difference is answered', () => {
    expect(of([1, 1, 1, 1, 1, 0], [1, 1, 1, 0, 1, 0])).toHaveProperty('coefficients');
  });
});

/** Observed, expected and variance of the first of two groups, straight from the definition. */
function slowRank(cases: readonly GroupedCase[]): number {
  let [difference, variance] = [0, 0];
  for (const stratum of new Set(cases.map((one) => one.stratum)))
    for (const time of new Set(cases.map((one) => one.time))) {
      const at = cases.filter((one) => one.stratum === stratum && (one.from ?? -1) < time && one.time >= time);
      const dead = at.filter((one) => one.time === time && one.happened);
      const [n, n0, d] = [at.length, at.filter(({ group }) => group === 0).length, dead.length];
      if (d === 0) continue;
      difference += dead.filter(({ group }) => group === 0).length - (d * n0) / n;
      if (n > 1) variance += (d * (n - d) * n0 * (n - n0)) / (n * n * (n - 1));
    }
  return difference ** 2 / variance;
}

describe('log-rank', () => {
  const cases = drawn(7, 80);
  test('two groups with late beginnings and strata, straight from the definition', () => {
    const halves = cases.map((one) => ({ ...one, group: Math.min(1, one.group) }));
    expect(logRank(halves, 2).statistic).toBeCloseTo(slowRank(halves), 9);
  });
  test('names of groups and order of cases do not matter; expected adds up to observed', () => {
    const { statistic, groups, freedom } = logRank(cases, 3);
    const renamed = [...cases].reverse().map((one) => ({ ...one, group: (one.group + 1) % 3 }));
    expect(logRank(renamed, 3).statistic).toBeCloseTo(statistic, 9);
    expect(freedom).toBe(2);
    const sum = (of: 'observed' | 'expected') => groups.reduce((all, group) => all + group[of], 0);
    expect(sum('expected')).toBeCloseTo(sum('observed'), 9);
    expect(sum('observed')).toBe(cases.filter((one) => one.happened && isWatched(one)).length);
  });
  test('one group, or a group that met nobody, gives nothing to compare', () => {
    expect(
      logRank(
        cases.map((one) => ({ ...one, group: 0 })),
        2,
      ),
    ).toMatchObject({ freedom: 0, p: 1 });
    const apart = [
      { from: 0, time: 5, happened: true, group: 0 },
      { from: 6, time: 9, happened: true, group: 1 },
    ];
    expect(logRank(apart, 2)).toMatchObject({ statistic: 0, freedom: 0, p: 1 });
  });
  test('a group outside the count is our mistake', () => {
    expect(() => logRank([{ time: 1, happened: true, group: 2 }], 2)).toThrow('group 2');
  });
});
