import { gathered, semenOf, volumeOf } from './column.ts';
import { type Catches, type MotherPart, mothersIn } from './contents.ts';
import type { TubeEnd } from './ledger-line.ts';
import type { LedgerStory, TubeStory } from './ledger-story.ts';
import { draw } from './vessel.ts';

/** What a dose that is not drawn yet would hold. */
export type DoseAhead = {
  /** µl the tube can give of it. */
  microlitres: number;
  semen: number;
  /** µl the tube is short of. */
  missing: number;
  mothers: readonly MotherPart[];
};

/** Whole doses still in a tube; 0 when it is overdrawn. A dose that fits but for rounding (1e-9 µl) counts. */
export const dosesLeft = (left: number, dose: number): number =>
  dose > 0 ? Math.max(0, Math.floor(left / dose + 1e-9)) : 0;

/**
 * What the next doses by an end of a tube hold, the very next first: how many, of which mothers.
 * Only what is in the tube is told: the last one may be short (`missing`), and an empty tube gives none.
 * @param ask µl of one dose, the end (usually the one it was filled by), how many at most
 */
export function nextDoses(
  book: { story: LedgerStory; catches: Catches },
  ask: { tube: string; end: TubeEnd; dose: number; atMost: number },
): DoseAhead[] {
  const doses: DoseAhead[] = [];
  let vessel = book.story.vessels.get(ask.tube);
  while (vessel !== undefined && doses.length < ask.atMost && volumeOf(vessel.column) > 1e-9) {
    const out = draw(vessel, ask.end, ask.dose);
    const held = out.missing > 0 ? vessel.column : out.slices;
    const mothers = mothersIn(gathered(held), { origins: book.story.origins, catches: book.catches });
    doses.push({ microlitres: volumeOf(held), semen: semenOf(held), missing: out.missing, mothers });
    vessel = out.vessel;
  }
  return doses;
}

/** µl left in all tubes together; an overdrawn tube counts as empty, its lack is no other tube's. */
export const leftTogether = (tubes: readonly TubeStory[]): number =>
  tubes.reduce((sum, tube) => sum + Math.max(0, tube.left), 0);
