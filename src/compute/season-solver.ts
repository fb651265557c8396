import loadHighs, { type Highs, type Model } from 'highs';
import { clashingLimits, type LimitName } from '#domain/rearing/season/clash.ts';
import { type LinearModel, provenBound } from '#domain/rearing/season/linear-model.ts';
import { searchSeason } from '#domain/rearing/season/plan-search.ts';
import { answerOf, plainBound, type SeasonAnswer } from '#domain/rearing/season/season-answer.ts';
import {
  type SeasonFigures,
  type SeasonFrame,
  seasonFigures,
  seasonFrame,
} from '#domain/rearing/season/season-frame.ts';
import {
  coarseModel,
  planOfValues,
  type SeasonModel,
  seasonModel,
  valuesOfPlan,
} from '#domain/rearing/season/season-model.ts';
import { type PlannedSeason, worthOf } from '#domain/rearing/season/season-plan.ts';
import { proposalOf, type SeasonProposal } from '#domain/rearing/season/season-proposal.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';
import type { Progress } from '#ports/compute.ts';

/** What a season is solved from. The seed fixes the search; the time is what limits it. */
export type SeasonFacts = { wish: SeasonWish; seed: number; milliseconds?: number };

let loading: Promise<Highs> | undefined;

/** The solver (WebAssembly, about 3.5 MB), loaded once. */
function solver(): Promise<Highs> {
  loading ??= loadHighs() as Promise<Highs>;
  return loading;
}

function nativeModel(highs: Highs, model: LinearModel, whole: boolean): Model {
  const { objectiveSense } = highs.constants;
  return highs.createModel({
    numCols: model.worth.length,
    numRows: model.rowLow.length,
    sense: objectiveSense.maximize,
    colCost: model.worth,
    colLower: model.low,
    colUpper: model.high,
    rowLower: model.rowLow,
    rowUpper: model.rowHigh,
    matrix: {
      format: 'csr',
      numRows: model.rowLow.length,
      numCols: model.worth.length,
      starts: model.starts,
      indices: model.columns,
      values: model.coefficients,
    },
    ...(whole ? { integrality: model.whole } : {}),
  });
}

/** A worth no season can exceed: row prices of the relaxed model by the interior-point method, then proven by ourselves. */
function relaxedBound(highs: Highs, model: LinearModel, seconds: number): number {
  // No day is open to any cross: nothing can be planned, and there is nothing to solve.
  if (model.worth.length === 0) return 0;
  if (seconds < 0.02) return Number.POSITIVE_INFINITY;
  const native = nativeModel(highs, model, false);
  try {
    native.options.set({ output_flag: false, solver: 'ipm', run_crossover: 'off', time_limit: seconds });
    native.run();
    // The duals of a maximised model come with the opposite sign of the price a row's limit has.
    return provenBound(
      model,
      Float64Array.from(native.getSolution().rowDual, (dual) => -dual),
    );
  } finally {
    native.dispose();
  }
}

type Improved = { plan: PlannedSeason; bound: number };

/** Branch and bound from a plan at hand, as far as the time allows. */
function branchAndBound(highs: Highs, season: SeasonModel, from: PlannedSeason, seconds: number): Improved {
  const native = nativeModel(highs, season.model, true);
  try {
    native.options.set({ output_flag: false, time_limit: seconds, mip_rel_gap: 1e-6 });
    const start = valuesOfPlan(season, from);
    native.setSolution({ indices: start.columns, values: start.values });
    native.run();
    const values = Float64Array.from(native.getSolution().colValue);
    const bound = Number(native.info.get('mip_dual_bound'));
    const found = values.length === season.model.worth.length;
    return {
      plan: found ? planOfValues(season, values) : from,
      bound: Number.isFinite(bound) ? bound : Number.POSITIVE_INFINITY,
    };
  } finally {
    native.dispose();
  }
}

/** Models with more whole columns than this are not branched on: two seconds would not move them. */
const BRANCHABLE = 6000;
/** More attempts than this have hardly ever found anything better, nor more than so many a cross in small seasons. */
const MOST_ATTEMPTS = 6000;
const ATTEMPTS_A_CROSS = 300;
/** ms for the search and its proof: with the chances of every day and the start of a thread, thirty crosses are answered within two seconds. */
const USUAL_TIME = 1000;
/** So many are made whatever the clock says. */
const FEWEST_ATTEMPTS = 200;

/**
 * In order: a quick bound from the queen side alone, the search, the bound of the whole model as far as time allows, and for models small enough branch and
 * bound from the plan found.
 */
async function solveFrame(
  facts: SeasonFacts,
  progress: Progress,
): Promise<{ answer: SeasonAnswer; frame: SeasonFrame }> {
  const began = performance.now();
  const budget = facts.milliseconds ?? USUAL_TIME;
  const left = () => budget - (performance.now() - began);
  const highs = await solver();
  const frame = seasonFrame(facts.wish);
  const season = seasonModel(frame);
  const columns = season.model.worth.length;
  const branches = columns > 0 && columns <= BRANCHABLE;
  let bound = Math.min(
    plainBound(frame),
    relaxedBound(highs, coarseModel(frame), Math.max(0.5, (0.8 * left()) / 1000)),
  );
  progress(1, 4);
  const isBest = (worth: number) => bound - worth < 1e-6 * Math.max(1, bound);
  const inTime = (attempts: number) => attempts < FEWEST_ATTEMPTS || left() > (branches ? 0.5 : 0.35) * budget;
  const most = Math.min(MOST_ATTEMPTS, ATTEMPTS_A_CROSS * facts.wish.crosses.length);
  const searching = (attempts: number, best: number) => attempts < most && inTime(attempts) && !isBest(best);
  let plan = searchSeason(frame, facts.seed, searching);
  progress(2, 4);
  bound = Math.min(bound, relaxedBound(highs, season.model, (0.8 * left()) / 1000));
  progress(3, 4);
  if (branches && !isBest(worthOf(plan, frame)) && left() > 0.1 * budget) {
    const better = branchAndBound(highs, season, plan, left() / 1000);
    bound = Math.min(bound, better.bound);
    if (worthOf(better.plan, frame) > worthOf(plan, frame)) plan = better.plan;
  }
  progress(4, 4);
  return { answer: answerOf(plan, frame, bound), frame };
}

/** Queens all crosses together want. */
const wantedIn = ({ crosses }: SeasonWish) => crosses.reduce((sum, { queens }) => sum + queens, 0);

/** Prices that are a little wrong prove a little less; half a queen is far beyond that. */
const HALF_A_QUEEN = 0.5;

/** Whether it is proven that not all queens of a wish can be done, for one profile and certainty. */
function impossibleWith(highs: Highs, figures: SeasonFigures, seconds: number) {
  return async (wish: SeasonWish): Promise<boolean> => {
    const plain: SeasonWish = {
      ...wish,
      visitWorth: 0,
      crosses: wish.crosses.map((cross) => ({ ...cross, worth: 1 })),
    };
    const frame = seasonFrame(plain, figures);
    const short = (bound: number) => bound < wantedIn(wish) - HALF_A_QUEEN;
    return (
      short(relaxedBound(highs, coarseModel(frame), seconds)) ||
      short(relaxedBound(highs, seasonModel(frame).model, seconds))
    );
  };
}

/**
 * Which limits clash when not all queens can be done: the fewest that together make it impossible, proven; `null` when that is not proven. Empty when no
 * limit is to blame.
 */
export async function explainShortfall(wish: SeasonWish, seconds = 1): Promise<LimitName[] | null> {
  return clashingLimits(wish, impossibleWith(await solver(), seasonFigures(wish), seconds));
}

/**
 * Proposes a season: days, grafts and combs for all crosses under all limits, with a proven bound on how good any season could be. Answers within
 * `milliseconds` (1000 unless told), on this thread; run it in a worker, and end the worker to stop it.
 */
export async function solveSeason(facts: SeasonFacts, progress: Progress = () => undefined): Promise<SeasonAnswer> {
  return (await solveFrame(facts, progress)).answer;
}

/** A season solved and told in days and names, with the chances of every day: what the page shows and takes. */
export async function proposeSeason(facts: SeasonFacts, progress: Progress = () => undefined): Promise<SeasonProposal> {
  const { answer, frame } = await solveFrame(facts, (done) => progress(done, 5));
  const proposal = proposalOf(answer, frame);
  progress(5, 5);
  return proposal;
}
