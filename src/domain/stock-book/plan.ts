import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import type { DraftRow } from './draft-row.ts';
import type { ColumnMeaning } from './meaning.ts';

/** A queen the import knows: one of its own (by key) or one of the book. */
export type QueenRef = { planned: string } | { book: RecordId };

/** A part of what a queen carries. */
export type PlannedPart = { of: QueenRef | { group: string } | { line: string } | 'open'; share: number };

/** What a queen carries, as the import will write it. */
export type PlannedMating =
  | {
      how: 'inseminated';
      oneOf: boolean;
      parts: PlannedPart[];
      on: Day | null;
      drones: number | null;
      dose: number | null;
    }
  | { how: 'batch'; batch: string; on: Day | null; drones: number | null; dose: number | null }
  | { how: 'open'; on: Day | null; drones: number | null }
  | { how: 'place'; place: string; year: number | null };

/** A queen the import will write down. `made` = a mother without a row, of whom only the code is known. */
export type PlannedQueen = {
  key: string;
  made: boolean;
  draft: DraftRow | null;
  code: string;
  dam: QueenRef | null;
  mating: PlannedMating | null;
};

/** Sisters the import will write down as a group: a row with a number of sisters, or "daughters of" a named queen. */
export type PlannedGroup = {
  key: string;
  code: string;
  size: number;
  dam: QueenRef | null;
  year: number | null;
  line: string | null;
};

/** Everything an import will write, dams before daughters are not needed: keys are settled when it is written. */
export type ImportPlan = {
  queens: PlannedQueen[];
  groups: PlannedGroup[];
  /** Day on which queens without an end were seen alive; `null` = nothing is said. */
  seenOn: Day | null;
};

/** What the book holds already, as far as an import has to know. */
export type BookFacts = {
  queens: readonly { id: RecordId; code: string; year: number | null; emerged: Day | null; gone: boolean }[];
  /** Codes queens bore before or elsewhere. */
  formerCodes: readonly { queen: RecordId; code: string }[];
  /** What columns of these headings meant in the last import. */
  remembered?: Readonly<Record<string, ColumnMeaning>>;
};
