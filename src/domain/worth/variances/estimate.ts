/**
 * Variances estimated from an input's own records, with the profile of each trait's correlation: the answer of a kept run, the same bits at every
 * rerun.
 */
import { type EvaluationInput, type EvaluationProblem, prepareEvaluation } from '../evaluation-input.ts';
import { type ProfilePoint, profileOfCorrelation } from './profile.ts';
import { estimateVariances, type Variances } from './variances.ts';

/** Variances with the traits they are of and the number of records they rest on. */
export type EstimatedVariances = Variances & {
  problems: [];
  /** In the order of G and R. */
  traits: readonly string[];
  records: number;
  /** Likelihood along the correlation of worker and queen effect, by trait; `null` where the stock is too large for it. */
  profiles: Readonly<Record<string, readonly ProfilePoint[]>> | null;
};

/** Queens up to which the profiles are worked out as well: about fifty factorisations a trait. */
const MOST_FOR_PROFILES = 5000;
/** Iterations a search usually ends within; only the bar of its progress rests on it. */
const USUAL_ITERATIONS = 20;

/**
 * Restricted maximum likelihood of all traits of the input together, climbing from its own G and R. `seed` is for stocks too large to factor, where
 * values are drawn. Progress counts one step for the estimate and one a trait for its profile.
 * Variances and covariances are in the squares of the units of the input's values, correlations −1 to 1, the log-likelihood without constant (Patterson and
 * Thompson 1971, Biometrika 58:545). An input that cannot stand gives its problems, each with its path; nothing is thrown.
 * @example estimateFromInput({ input: workedInput, seed: 1 }).records // 6
 */
export function estimateFromInput(
  { input, seed }: { input: EvaluationInput; seed: number },
  progress: (done: number, whole: number) => void = () => undefined,
): EstimatedVariances | { problems: readonly EvaluationProblem[] } {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) return prepared;
  const { pedigree, records, model, groups } = prepared;
  const more = groups === undefined ? {} : { groups };
  const { traits } = model;
  const isProfiled = pedigree.stock.columns.queens <= MOST_FOR_PROFILES;
  const whole = 1 + (isProfiled ? traits.length : 0);
  progress(0, whole);
  const answer = estimateVariances(pedigree, records, model, {
    seed,
    ...more,
    progress: (iteration) => {
      progress(Math.min(0.95, iteration / USUAL_ITERATIONS), whole);
      return undefined;
    },
  });
  const at = { ...model, G: Float64Array.from(answer.G.flat()), R: Float64Array.from(answer.R.flat()) };
  const profiles = traits.map((trait, s) => {
    if (!isProfiled) return [trait, []] as const;
    progress(1 + s, whole);
    return [trait, profileOfCorrelation(pedigree, records, at, { trait, ...more })] as const;
  });
  progress(whole, whole);
  return {
    ...answer,
    problems: [],
    traits,
    records: records.count,
    profiles: isProfiled ? Object.fromEntries(profiles) : null,
  };
}

/** Twice the drop of the likelihood that 95 of 100 samples stay within: χ² with one degree of freedom, 3.841 (any table of χ²). */
const DROP = 3.841 / 2;

/** Where a profile crosses a level between two of its points, taken as straight there. */
function crossing(inside: ProfilePoint, outside: ProfilePoint | undefined, level: number): number {
  if (outside === undefined) return inside.correlation;
  const part = (inside.logLikelihood - level) / (inside.logLikelihood - outside.logLikelihood);
  return inside.correlation + part * (outside.correlation - inside.correlation);
}

/**
 * The correlations of a profile that the records do not contradict (likelihood within 1.92 of the best, straight between its points), and whether
 * that is all that was tried. Points in rising order; `null` without any.
 * The limit is half the 95 % point of χ² with one degree of freedom (profile likelihood interval, Wilks 1938, Ann Math Stat 9:60).
 * @example compatibleWith([{ correlation: -0.5, logLikelihood: -11 }, { correlation: 0, logLikelihood: -10 }, { correlation: 0.5, logLikelihood: -13.841 }]) // { from: -0.5, to: 0.25, isFlat: false }
 */
export function compatibleWith(profile: readonly ProfilePoint[]): { from: number; to: number; isFlat: boolean } | null {
  const best = profile.reduce((most, { logLikelihood }) => Math.max(most, logLikelihood), Number.NEGATIVE_INFINITY);
  const level = best - DROP;
  const isWithin = ({ logLikelihood }: ProfilePoint) => logLikelihood >= level;
  const first = profile.findIndex(isWithin);
  const last = profile.findLastIndex(isWithin);
  const [low, high] = [profile[first], profile[last]];
  if (low === undefined || high === undefined) return null;
  return {
    from: crossing(low, profile[first - 1], level),
    to: crossing(high, profile[last + 1], level),
    isFlat: profile.every(isWithin),
  };
}
