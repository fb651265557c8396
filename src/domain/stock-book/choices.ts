import type { Day } from '#units/calendar-day.ts';
import type { ColumnMeaning, Meaning } from './meaning.ts';

/** What the person says about the codes of the sheet: they name queens, hives, or queens up to a year and hives since. */
export type CodeNames = 'queen' | 'hive' | { queenUntil: number };

/** What the drone column names. The classic error of one generation is to take the mother of the drone mothers for the drone mother. */
export type DronesName = 'drone-mother' | 'her-mother' | 'line' | 'place';

/** Answers to what the sheet cannot say by itself; what is left out has not been answered. */
export type Answers = {
  codeNames?: CodeNames;
  /** What stands behind the mark in a merged code: a meaning, or `whole` when it belongs to the code. */
  codeSplit?: Meaning | 'whole';
  /** Codes a spreadsheet turned into days: which figure stood first, or that they are right as they are. */
  codeDays?: 'day-month' | 'month-day' | 'keep';
  dayOrder?: 'day-first' | 'month-first';
  dronesName?: DronesName;
  /** How many drone mothers there were where only their mother is named. */
  sistersEach?: number;
  /** Mothers and drone mothers without a row: a queen of whom nothing else is known is written down, or the field stays empty. */
  unknownMothers?: 'make' | 'leave';
  /** Queens without an end in the sheet were seen alive on this day. */
  seenOn?: Day;
};

/** What a person mends in one row. */
export type RowFix = {
  /** Other text for a cell, by column index. */
  set?: Readonly<Record<string, string>>;
  /** The row is left out. */
  out?: boolean;
  /** Columns whose cell is kept as a note only. */
  note?: readonly number[];
  /** Problems that are kept as they are: it is how it was. */
  accept?: readonly string[];
};

/** Everything a person says about a sheet. Nothing of it is needed: what is missing is guessed, or asked. */
export type ImportChoices = {
  sheet?: string;
  encoding?: string;
  separator?: string;
  /** The row that names the columns; 0 = there is none. */
  headerRow?: number;
  columns?: Readonly<Record<string, ColumnMeaning>>;
  answers?: Answers;
  fixes?: Readonly<Record<string, RowFix>>;
};
