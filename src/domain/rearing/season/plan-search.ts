import { type RandomStream, randomStream } from '#numeric/random/random-stream.ts';
import { fillGreedily } from './plan-greedy.ts';
import { PlanLedger } from './plan-ledger.ts';
import type { SeasonFrame } from './season-frame.ts';
import { nothingPlanned, type PlannedSeason } from './season-plan.ts';

/** How long to go on looking: asked before every attempt with the number of attempts made and the best worth so far. */
export type KeepGoing = (attempts: number, best: number) => boolean;

/** First orders worth trying: few possible days first, the most worth first, many queens first, early first, as written. */
function firstOrders(frame: SeasonFrame): number[][] {
  const { crosses } = frame.wish;
  const written = crosses.map((_, i) => i);
  const by = (key: (cross: number) => number) => [...written].sort((a, b) => key(a) - key(b) || a - b);
  return [
    by((c) => frame.daysOf[c]?.length ?? 0),
    by((c) => -(crosses[c]?.worth ?? 1)),
    by((c) => -(crosses[c]?.queens ?? 0)),
    by((c) => frame.daysOf[c]?.[0] ?? 0),
    written,
  ];
}

function fillInOrder(frame: SeasonFrame, order: readonly number[]): PlanLedger {
  const ledger = new PlanLedger(frame);
  fillGreedily(
    ledger,
    frame,
    order.map((cross) => ({ cross })),
  );
  return ledger;
}

/** Likings of a cross for this attempt: as a rule none; sometimes early or late days, sometimes one stretch of days. */
function likingOf(frame: SeasonFrame, dice: RandomStream): Float64Array | undefined {
  const kind = dice.below(4);
  if (kind === 0) return undefined;
  const liking = new Float64Array(frame.days);
  if (kind === 1) {
    const middle = dice.below(frame.days);
    const width = 1 + dice.below(8);
    for (let day = Math.max(0, middle - width); day < Math.min(frame.days, middle + width); day++) liking[day] = 3;
  } else {
    const slope = (kind === 2 ? 1 : -1) * dice.uniform() * 0.1;
    for (let day = 0; day < frame.days; day++) liking[day] = slope * day;
  }
  return liking;
}

/** Some crosses to take out and place again, in random order: few as a rule. */
function some(count: number, dice: RandomStream): number[] {
  const wanted = Math.min(count, 1 + dice.below(4) + (dice.below(4) === 0 ? dice.below(6) : 0));
  const chosen = new Set<number>();
  while (chosen.size < wanted) chosen.add(dice.below(count));
  return [...chosen];
}

/** One attempt: some crosses are taken out of the season and placed again, and all that were short try once more. */
function placeAgain(ledger: PlanLedger, frame: SeasonFrame, dice: RandomStream): PlanLedger {
  const next = ledger.copy();
  const chosen = some(frame.wish.crosses.length, dice);
  for (const cross of chosen) next.takeBack(cross);
  const crosses = chosen.map((cross) => {
    const liking = likingOf(frame, dice);
    return liking === undefined ? { cross } : { cross, liking };
  });
  fillGreedily(next, frame, crosses);
  return next;
}

/** Worth in queens that an attempt may lose and still be gone on from, at the beginning; it falls to nothing. */
const WARMTH = 1.5;
/** After so many attempts nothing may be lost any more, until the search warms up again. */
const COOLING = 1500;

/**
 * A good season: greedy in several orders, then some crosses at a time taken out and placed again, going on from attempts that lose a little, less and
 * less (threshold accepting, Dueck and Scheuer 1990). Never worse than the best greedy one, always possible under the limits; how far from the best can only be
 * said with a bound (season-model.ts). The same seed and number of attempts give the same season.
 */
export function searchSeason(frame: SeasonFrame, seed: number, keepGoing: KeepGoing): PlannedSeason {
  if (frame.wish.crosses.length === 0) return nothingPlanned;
  const dice = randomStream(seed);
  let here = firstOrders(frame)
    .map((order) => fillInOrder(frame, order))
    .reduce((a, b) => (b.worth > a.worth ? b : a));
  let best = here;
  for (let attempts = 0; keepGoing(attempts, best.worth); attempts++) {
    const next = placeAgain(here, frame, dice);
    const loss = WARMTH * Math.max(0, 1 - (attempts % COOLING) / (0.8 * COOLING));
    if (next.worth >= here.worth - loss) here = next;
    if (here.worth > best.worth) best = here;
    if (attempts % COOLING === COOLING - 1) here = best;
  }
  return best.plan();
}
