import { z } from 'zod';
import type { Book } from '#ports/store.ts';
import { sights } from '#records/care.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Day } from '#units/calendar-day.ts';
import { doubt, type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { headOf, openStays } from './where-she-is.ts';

/** The queen found in a nuc in place of the one expected: one of the book, or a new one to write down. */
export const anotherShape = z.strictObject({
  queen: idShape.optional(),
  code: z.string().trim().min(1).max(200).optional(),
  colour: z.enum(['white', 'yellow', 'red', 'green', 'blue', 'other', 'none']).optional(),
  disc: z.int().min(0).max(100_000).optional(),
});

/** What one look into a nuc showed. */
export const lookShape = z.strictObject({
  /** Whose nuc it is. Either may be left out when the other tells it. */
  queen: idShape.optional(),
  colony: idShape.optional(),
  sights: z.array(z.enum(sights)).max(sights.length).optional(),
  queen_seen: z.enum(['seen', 'unmarked', 'other', 'not-seen']).optional(),
  cells_looked: z.int().min(0).optional(),
  gaps: z.int().min(0).optional(),
  another: anotherShape.optional(),
  words: z.string().trim().min(1).max(2_000).optional(),
});

/** When and by whom a nuc was looked into. */
export const visitShape = { day: dayShape.optional(), person: idShape.optional() };

export type Sight = (typeof sights)[number];
type Given = z.infer<typeof lookShape>;

/** A look with the queen and the colony it is about filled in from each other. */
export type Look = Omit<Given, 'queen' | 'colony' | 'sights'> & {
  queen: RecordId | null;
  colony: RecordId | null;
  sights: readonly Sight[];
  day: Day;
  person: RecordId | null;
};

/** Fills in who heads the colony, or where the queen sits. */
export async function settleLook(
  given: Given,
  visit: { day: Day; person: RecordId | null },
  book: Book,
): Promise<Look> {
  const queen = given.queen ?? (given.colony === undefined ? null : await headOf(book, given.colony));
  const stays = given.colony === undefined && queen !== null ? await openStays(book, queen) : [];
  const colony = given.colony ?? stays.find((stay) => stay.colony !== null)?.colony ?? null;
  return { ...given, ...visit, queen, colony, sights: [...new Set(given.sights ?? [])] };
}

/** What makes a look no look, or one that contradicts itself. */
export function problemsOfLook(look: Look, path: string): Problem[] {
  const saw = (sight: Sight) => look.sights.includes(sight);
  if (look.queen === null && look.colony === null) return [refuse(`${path}queen`, 'nobody-looked-at')];
  if (look.sights.length === 0 && look.queen_seen === undefined) return [refuse(`${path}sights`, 'nothing-seen')];
  const brood = look.sights.filter((sight) =>
    ['eggs', 'several-in-a-cell', 'worker-caps', 'drone-caps'].includes(sight),
  );
  const disagree = (saw('no-eggs') && brood.length > 0) || (saw('not-opened') && look.sights.length > 1);
  const gaps = look.gaps ?? 0;
  const looked = look.cells_looked ?? 0;
  return [
    ...(disagree ? [doubt(`${path}sights`, 'sights-disagree', about(look))] : []),
    ...(gaps > looked ? [refuse(`${path}gaps`, 'more-gaps-than-cells', { gaps, looked })] : []),
  ];
}

/** What a worry about this look is filed under. */
export const about = (look: Look): Record<string, string> =>
  look.queen === null ? { kind: 'colony', id: look.colony ?? '' } : { kind: 'queen', id: look.queen };
