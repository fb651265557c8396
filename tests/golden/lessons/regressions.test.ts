import { describe, expect, it } from 'vitest';
import { chiSquareAbove } from '#numeric/chance/chi-square.ts';
import { kaplanMeier } from '#numeric/chance/kaplan-meier.ts';
import { logRank } from '#numeric/chance/log-rank.ts';
import { type CoxFit, coxRegression, coxTable } from '#numeric/regression/cox.ts';
import type { Refusal } from '#numeric/regression/features.ts';
import { logisticMixed, type MixedFit } from '#numeric/regression/logistic-mixed.ts';
import { proportionality } from '#numeric/regression/proportionality.ts';
import golden from './regressions.json';

const { twelve, many, six, two } = golden;

/** Row after row from columns. */
const features = (...columns: readonly (readonly number[])[]) => ({
  values: Float64Array.from(columns[0]?.flatMap((_, i) => columns.map((column) => column[i] as number)) ?? []),
  columns: columns.length,
});
const near = (found: ArrayLike<number>, expected: readonly number[], within: number) => {
  expect(found.length).toBe(expected.length);
  expected.forEach((value, i) => {
    expect(Math.abs((found[i] as number) - value), `place ${i}: ${found[i]} for ${value}`).toBeLessThan(within);
  });
};
function fitted<T extends CoxFit | MixedFit>(fit: T | Refusal): T {
  if ('refused' in fit) throw new Error(`refused: ${fit.refused}`);
  return fit;
}

type ExpectedCox = {
  coefficients: number[];
  standardErrors: number[];
  logLikelihoodAtZero: number;
  logLikelihood: number;
  score: number;
};
/** R prints ten digits and stops when the likelihood moves by 1e-9 of itself: 1e-5 of a coefficient beside its error. */
function asInR(fit: CoxFit, expected: ExpectedCox): void {
  near(fit.coefficients, expected.coefficients, 2e-6);
  near(fit.standardErrors, expected.standardErrors, 1e-6);
  expect(fit.logLikelihoodAtZero).toBeCloseTo(expected.logLikelihoodAtZero, 6);
  expect(fit.logLikelihood).toBeCloseTo(expected.logLikelihood, 6);
  expect(fit.score).toBeCloseTo(expected.score, 6);
}

describe('twelve watched cases in two groups (R survival 3.5-3)', () => {
  const cases = twelve.time.map((time, i) => ({
    time,
    happened: twelve.happened[i] === 1,
    group: twelve.group[i] as number,
  }));
  const table = { time: Float64Array.from(twelve.time), happened: Uint8Array.from(twelve.happened) };

  it('log-rank 1.690289 with what was seen and expected', () => {
    const test = logRank(cases, 2);
    expect(test.statistic).toBeCloseTo(1.690289, 6);
    expect(test.statistic).toBeCloseTo(twelve.logRank.statistic, 8);
    near(
      test.groups.map(({ observed }) => observed),
      twelve.logRank.observed,
      1e-9,
    );
    near(
      test.groups.map(({ expected }) => expected),
      twelve.logRank.expected,
      1e-8,
    );
    expect(test.freedom).toBe(1);
  });

  it('Cox: Breslow −1.054594, Efron −1.083478 with error 0.876698', () => {
    const breslow = fitted(coxRegression(table, features(twelve.group), 'breslow'));
    const efron = fitted(coxRegression(table, features(twelve.group), 'efron'));
    expect(breslow.coefficients[0]).toBeCloseTo(-1.054594, 6);
    expect(efron.coefficients[0]).toBeCloseTo(-1.083478, 6);
    expect(efron.standardErrors[0]).toBeCloseTo(0.876698, 6);
    asInR(breslow, twelve.breslow);
    asInR(efron, twelve.efron);
  });
});

describe('240 cases with ties, late beginnings, strata and four features (R survival 3.5-3)', () => {
  const from = Float64Array.from(many.from);
  const table = { from, time: Float64Array.from(many.time), happened: Uint8Array.from(many.happened) };
  const [second, third] = [1, 2].map((group) => many.group.map((one) => (one === group ? 1 : 0))) as [
    number[],
    number[],
  ];
  const all = features(many.x1, many.x2, second, third);
  const cases = many.time.map((time, i) => ({
    from: many.from[i] as number,
    time,
    happened: many.happened[i] === 1,
    group: many.group[i] as number,
    stratum: many.stratum[i] as number,
  }));

  it('the curve counts only those already watched', () => {
    const curve = kaplanMeier(cases);
    near(
      curve.map(({ time }) => time),
      many.curve.time,
      1e-9,
    );
    near(
      curve.map(({ atRisk }) => atRisk),
      many.curve.atRisk,
      1e-9,
    );
    near(
      curve.map(({ share }) => share),
      many.curve.share,
      1e-8,
    );
    near(
      curve.map(({ standardError }) => standardError),
      many.curve.standardError,
      1e-8,
    );
  });

  it('log-rank of three groups, plain, in strata, and with late beginnings', () => {
    const early = cases.map(({ from: _, ...rest }) => rest);
    const plain = early.map(({ stratum: _, ...rest }) => rest);
    expect(logRank(plain, 3).statistic).toBeCloseTo(many.logRank.statistic, 7);
    expect(logRank(early, 3).statistic).toBeCloseTo(many.logRankStrata.statistic, 7);
    near(
      logRank(early, 3).groups.map(({ expected }) => expected),
      many.logRankStrata.expected,
      1e-6,
    );
    const apart = cases.map((one, i) => ({ ...one, time: one.time + (i + 1) / 1000 }));
    expect(logRank(apart, 3).statistic).toBeCloseTo(many.logRankLateStrata, 6);
    const unstratified = apart.map(({ stratum: _, ...rest }) => rest);
    expect(logRank(unstratified, 3).statistic).toBeCloseTo(many.logRankLate, 6);
  });

  it('Cox with Efron and Breslow ties, and in strata', () => {
    asInR(fitted(coxRegression(table, all, 'efron')), many.efron);
    asInR(fitted(coxRegression(table, all, 'breslow')), many.breslow);
    const stratum = Int32Array.from(many.stratum);
    asInR(fitted(coxRegression({ ...table, stratum }, all, 'efron')), many.strata);
  });

  it.each([
    ['efron', 'identity', many.zphIdentity, (time: number) => time],
    ['efron', 'log', many.zphLog, Math.log],
    ['breslow', 'identity', many.zphBreslow, (time: number) => time],
  ] as const)('proportionality, %s ties, clock %s (cox.zph)', (ties, _, expected, clock) => {
    const fit = fitted(coxRegression(table, all, ties));
    const { each, all: whole } = proportionality(coxTable(table, all, ties), fit, clock);
    near(
      [...each, whole].map((one) => one?.statistic ?? Number.NaN),
      expected.statistics,
      1e-5,
    );
    near(
      [...each, whole].map((one) => one?.p ?? Number.NaN),
      expected.p,
      1e-5,
    );
  });

  it('chi-square tails as those of cox.zph', () => {
    near(
      many.zphIdentity.statistics.map((statistic, i) => chiSquareAbove(statistic, i === 4 ? 4 : 1)),
      many.zphIdentity.p,
      1e-8,
    );
  });
});

type ExpectedMixed = {
  intercept: number;
  coefficients: number[];
  standardErrors: number[];
  spreads: number[];
  logLikelihood: number;
  levels: number[][];
  levelErrors: number[][];
  fitted: number[];
};
/** lme4's optimiser stops about 1e-5 from the top in these coefficients, where the likelihood differs by less than 1e-9. */
function asInLme4(fit: MixedFit, expected: ExpectedMixed): void {
  expect(fit.logLikelihood).toBeCloseTo(expected.logLikelihood, 6);
  expect(fit.logLikelihood).toBeGreaterThan(expected.logLikelihood - 1e-7);
  near([fit.intercept, ...fit.coefficients], [expected.intercept, ...expected.coefficients], 1e-4);
  near(fit.standardErrors, expected.standardErrors, 2e-4);
  near(
    fit.factors.map(({ spread }) => spread),
    expected.spreads,
    1e-4,
  );
  expected.levels.forEach((values, k) => {
    near(fit.factors[k]?.values ?? [], values, 2e-4);
    near(fit.factors[k]?.errors ?? [], expected.levelErrors[k] ?? [], 2e-4);
  });
  near(fit.fitted.slice(0, expected.fitted.length), expected.fitted, 5e-5);
}

describe('logistic regression with random levels (R lme4 1.1-31, Laplace)', () => {
  it('six batches: intercept 1.5556 with error 0.4862, spread 0.8441, log-likelihood −11.76579, six shares', () => {
    const table = { successes: Float64Array.from(six.successes), trials: Float64Array.from(six.trials) };
    const fit = fitted(
      logisticMixed(table, { values: new Float64Array(0), columns: 0 }, [
        { levels: 6, of: Int32Array.of(0, 1, 2, 3, 4, 5) },
      ]),
    );
    asInLme4(fit, six.fit);
    // An earlier run of lme4, whose optimiser stopped a little elsewhere.
    near(
      [fit.intercept, fit.standardErrors[0] ?? 0, fit.factors[0]?.spread ?? 0],
      [1.555564, 0.486167, 0.844092],
      3e-5,
    );
    near(fit.fitted, [0.86163, 0.75805, 0.86765, 0.57557, 0.87354, 0.87307], 1e-5);
    expect(fit.logLikelihood).toBeCloseTo(-11.76579, 5);
  });

  const table = { successes: Float64Array.from(two.y), trials: new Float64Array(two.y.length).fill(1) };
  const beside = features(two.age, two.type);

  it('420 single outcomes: 40 levels crossed with 6, a quantity and a group', () => {
    const fit = fitted(
      logisticMixed(table, beside, [
        { levels: 40, of: Int32Array.from(two.batch) },
        { levels: 6, of: Int32Array.from(two.person) },
      ]),
    );
    asInLme4(fit, two.fit);
  });

  it('without random levels it is plain logistic regression (R glm)', () => {
    const fit = fitted(logisticMixed(table, beside, []));
    near([fit.intercept, ...fit.coefficients], two.plain.coefficients, 1e-7);
    near(fit.standardErrors, two.plain.standardErrors, 1e-6);
    expect(fit.logLikelihood).toBeCloseTo(two.plain.logLikelihood, 6);
  });
});
