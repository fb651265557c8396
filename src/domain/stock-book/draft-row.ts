import type { Day } from '#units/calendar-day.ts';
import type { FateKind } from '../living/living-state.ts';
import type { MarkColour } from '../marking/year-colour.ts';
import type { MatingRead } from './mating-words.ts';

/** A day as far as it is known. */
export type DraftDay = { day: Day; about: number | null };

/** What one row of the sheet says, cell by cell understood; who its names are is settled later. */
export type DraftRow = {
  row: number;
  code: string;
  /** What stood in the code column where the code was made from it (a hive number). */
  writtenCode: string | null;
  emerged: DraftDay | null;
  year: number | null;
  dam: string | null;
  mating: Extract<MatingRead, { is: 'open' | 'named' }> | null;
  drones: number | null;
  batch: string | null;
  inseminated: Day | null;
  dose: number | null;
  colour: MarkColour | 'none' | null;
  disc: number | null;
  clip: 'left' | 'right' | 'none' | null;
  line: string | null;
  yard: string | null;
  hive: string | null;
  fate: { kind: FateKind; on: Day | null; cause: string | null } | null;
  living: boolean;
  formerCode: string | null;
  sisters: number | null;
  notes: string[];
};
