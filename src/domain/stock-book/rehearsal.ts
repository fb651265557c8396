import type { ColumnMeaning } from './meaning.ts';
import type { ImportPlan } from './plan.ts';
import type { OrderProof } from './read-day.ts';
import type { RowProblem } from './row-problem.ts';
import type { ReadAs } from './table.ts';

/** One column of the sheet with what it is taken to mean and what it holds. */
export type RehearsedColumn = ColumnMeaning & {
  index: number;
  heading: string;
  /** True when nobody has said what it means. */
  guessed: boolean;
  examples: string[];
};

/** Something the sheet cannot say by itself. `needed`: nothing is written before it is answered. */
export type RehearsalQuestion =
  | { id: 'day-order'; needed: boolean; proof: OrderProof; example: string }
  | { id: 'code-names'; needed: boolean; twice: number; example: string }
  | { id: 'code-split'; needed: boolean; by: string; rows: number; example: string }
  | { id: 'code-days'; needed: boolean; rows: number; example: string; dayMonth: string; monthDay: string }
  | { id: 'drones-name'; needed: boolean; rows: number; example: string }
  | { id: 'sisters-each'; needed: boolean; groups: number }
  | { id: 'unknown-mothers'; needed: boolean; codes: number; example: string }
  | { id: 'seen-on'; needed: boolean; queens: number };

/** What would be written, in numbers. */
export type RehearsalCounts = {
  rows: number;
  queens: number;
  made: number;
  groups: number;
  lines: number;
  yards: number;
  hives: number;
  matings: number;
  ended: number;
  notes: number;
  leftOut: number;
  titles: number;
};

/** A dress rehearsal: what was read, what is asked, what does not fit, and what would be written. */
export type Rehearsal = {
  readAs: ReadAs;
  headerRow: number;
  columns: RehearsedColumn[];
  /** The first rows as they stand in the file. */
  firstRows: { number: number; texts: string[] }[];
  questions: RehearsalQuestion[];
  problems: RowProblem[];
  /** How often each problem occurs; `problems` may hold only the first of many. */
  problemCounts: { code: RowProblem['code']; weight: RowProblem['weight']; rows: number }[];
  counts: RehearsalCounts;
  /** True when nothing keeps it from being written. */
  ready: boolean;
};

/** A rehearsal with the plan it stands for; the plan is not sent to the page. */
export type Rehearsed = { rehearsal: Rehearsal; plan: ImportPlan };
