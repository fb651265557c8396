import type { BenchAct, Board, DoseDoubt } from './bench-board.ts';
import { standingActs } from './standing-acts.ts';

/** What is still open when the bench is put away. Each list empty = nothing to do. */
export type PutAway = {
  /** Flagged, and no reason noted since. */
  withoutReason: readonly string[];
  /** Inseminated, and not seen going back in. */
  notBackIn: readonly string[];
  /** Neither done nor marked as not done. */
  waiting: readonly string[];
  /** Doses recorded with a doubt. */
  doubted: readonly { queen: string; doubts: readonly DoseDoubt[] }[];
  /** STOPs passed or turned away: their reason is asked now. */
  stops: readonly Extract<BenchAct, { kind: 'stopped' }>[];
  /** Tubes drawn from, to be measured again or marked empty. */
  toRemeasure: readonly string[];
};

/** What is to be settled after the work on a cross, from its board and all its acts. */
export function putAway(board: Board, acts: readonly BenchAct[]): PutAway {
  const standing = standingActs(acts);
  const doses = standing.filter((act) => act.kind === 'dose-given');
  const later = standing.filter((act) => act.kind === 'exception');
  const noted = [
    ...doses.flatMap((dose) => dose.exceptions.map((exception) => ({ queen: dose.queen, exception }))),
    ...later.map(({ queen, exception }) => ({ queen, exception })),
  ];
  const flagged = new Set(noted.filter((one) => one.exception === 'flagged').map((one) => one.queen));
  const explained = new Set(noted.filter((one) => one.exception !== 'flagged').map((one) => one.queen));
  const of = (status: string) =>
    board.facts.queue.filter((entry) => entry.status === status).map((entry) => entry.queen);
  return {
    withoutReason: [...flagged].filter((queen) => !explained.has(queen)),
    notBackIn: of('given'),
    waiting: of('waiting'),
    doubted: doses.filter((dose) => dose.doubts.length > 0).map(({ queen, doubts }) => ({ queen, doubts })),
    stops: standing.filter((act) => act.kind === 'stopped'),
    toRemeasure: [...new Set(doses.flatMap((dose) => dose.draws.map((draw) => draw.tube)))],
  };
}
