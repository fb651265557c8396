import { gathered } from '#domain/semen/column.ts';
import { type Catches, type MotherPart, mothersIn } from '#domain/semen/contents.ts';
import type { LedgerStory } from '#domain/semen/ledger-story.ts';
import { dosesLeft } from '#domain/semen/next-dose.ts';
import { draw } from '#domain/semen/vessel.ts';
import type { Board } from './bench-board.ts';
import { doseOf, runsShort } from './give-dose.ts';

/** What the board says of the open tube before the next dose. */
export type TubeOutlook = {
  tube: string;
  /** µl left; null when nobody knows. */
  left: number | null;
  /** Whole doses left; null when nobody knows. */
  doses: number | null;
  waiting: number;
  /** True before it runs short: at most one more dose, and more queens than that. */
  runsShort: boolean;
  /** Whose drones the next dose holds, the largest part first; empty when the ledger does not say. */
  mothers: readonly MotherPart[];
};

/**
 * Doses left in the open tube, the warning before it runs short, and the mother (or mothers) whose drones the next dose
 * holds; null when no tube is open.
 * @param book ledgers as read when the board was opened (`drawnSince` 0 then) or since
 * @param drawnSince µl drawn out of the open tube at the board that the ledgers in `book` do not have yet
 */
export function tubeOutlook(
  board: Board,
  book: { story: LedgerStory; catches: Catches; drawnSince: number },
): TubeOutlook | null {
  const { facts } = board;
  if (facts.tube === null) return null;
  const open = facts.rack.find((tube) => tube.tube === facts.tube);
  const left = open?.left ?? null;
  const wanted = Math.max(0, facts.dose - doseOf(facts.inHand?.draws ?? []));
  return {
    tube: facts.tube,
    left,
    doses: left === null ? null : dosesLeft(left, board.usualDose),
    waiting: facts.queue.filter((entry) => entry.status === 'waiting').length,
    runsShort: runsShort(facts, board.usualDose),
    mothers: mothersAhead(facts.tube, { ...book, end: open?.end ?? 'filled', wanted }),
  };
}

type Ahead = { story: LedgerStory; catches: Catches; drawnSince: number; end: 'filled' | 'other'; wanted: number };

function mothersAhead(tube: string, { story, catches, drawnSince, end, wanted }: Ahead): MotherPart[] {
  const vessel = story.vessels.get(tube);
  if (vessel === undefined) return [];
  const before = drawnSince > 0 ? draw(vessel, end, drawnSince).vessel : vessel;
  if (before.column.length === 0) return [];
  return mothersIn(gathered(draw(before, end, wanted).slices), { origins: story.origins, catches });
}
