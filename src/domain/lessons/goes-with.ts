import type { Refusal } from '#numeric/regression/features.ts';
import { logistic } from '#numeric/regression/logistic.ts';
import { logisticMixed, type MixedFit } from '#numeric/regression/logistic-mixed.ts';
import { luckOfCoefficient, type Ranged, ranged } from './coefficient.ts';
import type { Luck } from './luck.ts';
import { amountIn, chooseFactors, isComplete, type ModelFactor, type NotUsed } from './model-factors.ts';
import type { Outcome } from './outcome.ts';

/** How laying goes with one thing, all else in the model being equal. */
export type Effect = {
  factor: string;
  /** A group against `against`; both null for a quantity, which counts by one unit more. */
  group: string | null;
  against: string | null;
  /** Odds ratio of laying with its 95 % interval (Wald). */
  odds: Ranged;
  /** Share laying that the average queen would have with it, instead of `GoesWith.usual`. */
  share: Ranged;
  /** Queens of the group; all, for a quantity, from the least to the most written. */
  queens: number;
  least: number | null;
  most: number | null;
  luck: Luck;
};

/** One operator or tube, drawn towards all. */
export type Drawn = { group: string; laying: number; known: number; share: Ranged };
export type RandomSpread = {
  factor: string;
  /** Standard deviation on the log-odds scale; 0 where none is seen. */
  spread: number;
  /** Shares of the average queen one standard deviation below and above. */
  poor: number;
  good: number;
  levels: Drawn[];
  /** Pairs whose ranges do not overlap; only these differ. */
  apart: number;
};

/** Why there is no model at all: a closed list. */
export type NoModel = 'few-ends' | 'few-failures' | 'few-laying' | 'nothing-differs' | 'levels-parted' | 'not-finite';

export type GoesWith = {
  /** Queens the model rests on, and how many of them lay. */
  used: number;
  laying: number;
  leftOut: { open: number; notWritten: number };
  /** Share laying of an average queen: quantities at their means, groups the commonest, an average operator and tube. */
  usual: number;
  effects: Effect[];
  random: RandomSpread[];
  notUsed: NotUsed[];
  refused: NoModel | null;
};

/** Fewer known ends carry no model; fewer failures carry no coefficient (five each). */
const LEAST_ENDS = 30;
const LEAST_EACH = 5;

type Column = { factor: ModelFactor; group: string | null; of: (outcome: Outcome) => number };

function columnsOf(factors: readonly ModelFactor[]): Column[] {
  return factors.flatMap((factor): Column[] => {
    if (factor.kind === 'random') return [];
    if (factor.kind === 'quantity')
      return [{ factor, group: null, of: (one) => amountIn(one.factors[factor.factor]) ?? 0 }];
    return factor.others.map((group) => ({
      factor,
      group,
      of: (one) => (one.factors[factor.factor] === group ? 1 : 0),
    }));
  });
}

type Model = { rows: Outcome[]; factors: ModelFactor[]; columns: Column[] };

const randomOf = (factors: readonly ModelFactor[]) =>
  factors.flatMap((one) => (one.kind === 'random' ? [{ factor: one.factor, levels: one.levels }] : []));

function fitModel({ rows, factors, columns }: Model): MixedFit | Refusal {
  const table = {
    successes: Float64Array.from(rows, (one) => Number(one.laying === true)),
    trials: new Float64Array(rows.length).fill(1),
  };
  const values = Float64Array.from(rows.flatMap((one) => columns.map(({ of }) => of(one))));
  const random = randomOf(factors).map(({ factor, levels }) => ({
    levels: levels.length,
    of: Int32Array.from(rows, (one) => levels.indexOf(one.factors[factor] ?? '')),
  }));
  return logisticMixed(table, { values, columns: columns.length }, random);
}

type Found = { model: Model; fit: MixedFit; notUsed: NotUsed[] };

/** Fits; what cannot be told from the rest, or has no end, is taken out and said, and the rest is fitted again. */
function fitAllThatCan(known: readonly Outcome[]): Found | { refused: NoModel; notUsed: NotUsed[] } {
  const chosen = chooseFactors(known);
  let { factors } = chosen;
  const { notUsed } = chosen;
  for (;;) {
    if (factors.length === 0) return { refused: 'nothing-differs', notUsed };
    const rows = known.filter((one) => isComplete(one, factors));
    const model = { rows, factors, columns: columnsOf(factors) };
    const laying = rows.filter((one) => one.laying === true).length;
    const few = tooFew(rows.length, laying);
    if (few !== null) return { refused: few, notUsed };
    const fit = fitModel(model);
    if (!('refused' in fit)) return { model, fit, notUsed };
    if (fit.refused === 'not-finite') return { refused: 'not-finite', notUsed };
    if (fit.refused !== 'dependent' && fit.refused !== 'parted') return { refused: 'levels-parted', notUsed };
    const why = fit.refused === 'parted' ? 'parted' : 'goes-along';
    const out = new Set(fit.columns.map((k) => model.columns[k]?.factor));
    if (out.size === 0) return { refused: 'levels-parted', notUsed };
    for (const one of out) if (one !== undefined) notUsed.push({ factor: one.factor, why });
    factors = factors.filter((one) => !out.has(one));
  }
}

function tooFew(known: number, laying: number): NoModel | null {
  if (known < LEAST_ENDS) return 'few-ends';
  if (known - laying < LEAST_EACH) return 'few-failures';
  return laying < LEAST_EACH ? 'few-laying' : null;
}

/** The log odds of the average queen: quantities at their means, the commonest groups. */
function usualLog({ model, fit }: Found): number {
  return model.columns.reduce((sum, { factor, of }, k) => {
    if (factor.kind !== 'quantity') return sum;
    const mean = model.rows.reduce((all, one) => all + of(one), 0) / model.rows.length;
    return sum + (fit.coefficients[k] as number) * mean;
  }, fit.intercept);
}

function effectOf(found: Found, k: number, usual: number): Effect {
  const { model, fit } = found;
  const { factor, group, of } = model.columns[k] as Column;
  const b = fit.coefficients[k] as number;
  const error = fit.standardErrors[k + 1] as number;
  const amounts = model.rows.map(of);
  return {
    factor: factor.factor,
    group,
    against: factor.kind === 'grouping' ? factor.against : null,
    odds: ranged(b, error, Math.exp),
    share: ranged(b, error, (x) => logistic(usual + x)),
    queens: group === null ? model.rows.length : amounts.filter((one) => one === 1).length,
    least: group === null ? amounts.reduce((a, c) => Math.min(a, c)) : null,
    most: group === null ? amounts.reduce((a, c) => Math.max(a, c)) : null,
    luck: luckOfCoefficient(b, error, model.columns.length),
  };
}

const pairsApart = (levels: readonly Drawn[]): number =>
  levels.reduce(
    (sum, { share }, i) => sum + levels.slice(i + 1).filter((other) => isApart(share, other.share)).length,
    0,
  );
const isApart = (a: Ranged, b: Ranged) => a.low > b.high || b.low > a.high;

function spreadOf({ model, fit }: Found, k: number, usual: number): RandomSpread {
  const { factor, levels } = randomOf(model.factors)[k] as { factor: string; levels: string[] };
  const drawn = fit.factors[k] as MixedFit['factors'][number];
  const all = levels.map((group, j): Drawn => {
    const hers = model.rows.filter((one) => one.factors[factor] === group);
    const laying = hers.filter((one) => one.laying === true).length;
    const [value, error] = [drawn.values[j] as number, drawn.errors[j] as number];
    return { group, laying, known: hers.length, share: ranged(value, error, (x) => logistic(usual + x)) };
  });
  return {
    factor,
    spread: drawn.spread,
    poor: logistic(usual - drawn.spread),
    good: logistic(usual + drawn.spread),
    levels: all,
    apart: pairsApart(all),
  };
}

/**
 * What goes with laying: one logistic model of all that is written down of the inseminations, with operator and tube as random levels drawn towards
 * all, and everything else beside each other, so that storage is compared at the same age of the queen. Odds ratios with Wald 95 % intervals; levels of
 * operator and tube in the order of their queens, never of their shares. It says what goes with laying, not what causes it. Rows of one queen
 * inseminated twice count as two. Refused with its reason when there are fewer than 30 known ends, fewer than five of either, or nothing differs.
 * @example goesWith(outcomes).effects[0] // { factor: 'storage_days', odds: { value: 0.93, low: 0.86, high: 1.01 }, luck: 'easily', … }
 */
export function goesWith(outcomes: readonly Outcome[]): GoesWith {
  const known = outcomes.filter((one) => one.laying !== null);
  const laying = known.filter((one) => one.laying === true).length;
  const nothing = { used: 0, laying: 0, usual: 0, effects: [], random: [] };
  const open = outcomes.length - known.length;
  const few = tooFew(known.length, laying);
  const found = few === null ? fitAllThatCan(known) : { refused: few, notUsed: [] };
  if ('refused' in found) return { ...nothing, ...found, leftOut: { open, notWritten: 0 } };
  const usual = usualLog(found);
  const { rows, columns, factors } = found.model;
  return {
    used: rows.length,
    laying: rows.filter((one) => one.laying === true).length,
    leftOut: { open, notWritten: known.length - rows.length },
    usual: logistic(usual),
    effects: columns.map((_, k) => effectOf(found, k, usual)),
    random: randomOf(factors).map((_, k) => spreadOf(found, k, usual)),
    notUsed: found.notUsed,
    refused: null,
  };
}
