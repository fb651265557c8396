import { type Catches, type MotherPart, mothersOf } from '#domain/semen/contents.ts';
import type { Drawn, LedgerStory } from '#domain/semen/ledger-story.ts';
import { dronesBehind } from '#domain/semen/origins.ts';
import type { BenchAct } from './bench-board.ts';
import type { ExceptionKind, NotDoneReason } from './exception.ts';
import { standingActs } from './standing-acts.ts';

/** The work on a cross in numbers. */
export type DaySummary = {
  doses: number;
  /** µl given in all, and the mean; null without a dose. */
  microlitres: number;
  meanDose: number | null;
  exceptions: Readonly<Partial<Record<ExceptionKind, number>>>;
  notDone: Readonly<Partial<Record<NotDoneReason, number>>>;
};

function counted<K extends string>(all: readonly K[]): Partial<Record<K, number>> {
  const counts: Partial<Record<K, number>> = {};
  for (const one of all) counts[one] = (counts[one] ?? 0) + 1;
  return counts;
}

/** Sums up the acts of a board: doses, µl, exceptions (at once or late) and queens not done, without what was stepped back. */
export function daySummary(acts: readonly BenchAct[]): DaySummary {
  const standing = standingActs(acts);
  const doses = standing.filter((act) => act.kind === 'dose-given');
  const late = standing.filter((act) => act.kind === 'exception').map((act) => act.exception);
  const reasons = standing.filter((act) => act.kind === 'not-done').map((act) => act.reason);
  const microlitres = doses.reduce((sum, dose) => sum + dose.microlitres, 0);
  return {
    doses: doses.length,
    microlitres,
    meanDose: doses.length > 0 ? microlitres / doses.length : null,
    exceptions: counted([...doses.flatMap((dose) => dose.exceptions), ...late]),
    notDone: counted(reasons),
  };
}

/** Drones per mother in everything that was drawn: shares of the semen given, drones by count, the largest share first. */
export const dronesPerMother = (
  draws: readonly Drawn[],
  book: { story: LedgerStory; catches: Catches },
): MotherPart[] =>
  mothersOf(
    draws.flatMap((drawn) => drawn.pieces.flatMap((piece) => dronesBehind(piece, book.story.origins))),
    book.catches,
  );
