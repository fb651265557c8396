import type { PlanLedger } from './plan-ledger.ts';
import type { SeasonFrame } from './season-frame.ts';
import type { Placement } from './season-plan.ts';

const NONE = new Int32Array(0);

type Choice = { placement: Placement; score: number };

/** How many pieces a cross may be cut into. */
const MOST_PIECES = 6;

/** What is asked of a choice: queens still wanted, and how much each day is liked (added to its worth in queens; small numbers break ties). */
type Asked = { cross: number; left: number; liking: Float64Array | undefined };

/** The choice with the highest score: queens placed, less visits added, plus the liking of the day. Days that cannot win are not looked at. */
function bestChoice(ledger: PlanLedger, frame: SeasonFrame, { cross, left, liking }: Asked): Choice | null {
  const worth = frame.wish.crosses[cross]?.worth ?? 1;
  let best: Choice | null = null;
  for (const day of frame.daysOf[cross] ?? [])
    for (const graft of frame.ofCross[cross]?.graftsFor[day] ?? NONE) {
      const whole = { cross, day, graft, queens: left };
      const beside = (liking?.[day] ?? 0) - frame.visitWorth * ledger.plainVisits(whole);
      if (best !== null && left * worth + beside <= best.score) continue;
      const queens = ledger.mostQueens(whole);
      if (queens === 0 || (best !== null && queens * worth + beside <= best.score)) continue;
      const placement = { cross, day, graft, queens };
      const score = queens * worth + beside - frame.visitWorth * ledger.combVisits(placement);
      if (best === null || score > best.score) best = { placement, score };
    }
  return best;
}

/** Places crosses one after the other, each taking its best days until it has its queens or nothing fits any more. */
export function fillGreedily(
  ledger: PlanLedger,
  frame: SeasonFrame,
  crosses: readonly { cross: number; liking?: Float64Array }[],
): void {
  for (const { cross, liking } of crosses) {
    let left = frame.wish.crosses[cross]?.queens ?? 0;
    for (let piece = 0; piece < MOST_PIECES && left > 0; piece++) {
      const choice = bestChoice(ledger, frame, { cross, left, liking });
      if (choice === null) break;
      ledger.place(choice.placement);
      left -= choice.placement.queens;
    }
  }
}
