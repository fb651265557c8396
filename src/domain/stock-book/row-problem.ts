/**
 * Something in a row that needs a look. `must`: nothing is written until it is mended, kept as a note or left out. `choice`: what is
 * done about it is said and can be changed. `said`: only told.
 */
export type RowProblem = {
  row: number;
  /** Index of the column, `null` for the whole row. */
  column: number | null;
  code: RowProblemCode;
  /** What stands in the cell. */
  found: string;
  values: Readonly<Record<string, string | number>>;
  weight: 'must' | 'choice' | 'said';
  /** Texts the cell might have meant, the likeliest first. */
  suggestions: readonly string[];
};

export type RowProblemCode =
  | 'row-without-code'
  | 'row-too-long'
  | 'row-title'
  | 'row-quotes'
  | 'row-code-twice'
  | 'row-code-in-book'
  | 'row-hive-without-year'
  | 'row-dam-unknown'
  | 'row-drone-mother-unknown'
  | 'row-older-than-dam'
  | 'row-loop'
  | 'row-impossible-day'
  | 'row-unreadable-day'
  | 'row-day-without-year'
  | 'row-day-ahead'
  | 'row-before-emergence'
  | 'row-unknown-colour'
  | 'row-colour-not-of-year'
  | 'row-unknown-fate'
  | 'row-unknown-clip'
  | 'row-not-a-number'
  | 'row-mating-unreadable'
  | 'row-mating-twice'
  | 'row-disc-twice'
  | 'row-dam-read-as'
  | 'row-dam-is-group';

/** Problems a person may keep as they are: implausible, but it may be how it was. */
export const acceptable: ReadonlySet<RowProblemCode> = new Set<RowProblemCode>([
  'row-older-than-dam',
  'row-day-ahead',
  'row-before-emergence',
  'row-disc-twice',
  'row-too-long',
  'row-quotes',
]);

/** Problems of a cell that may be kept as a note instead of read; others need the row mended or left out. */
export const canBeNote = ({ column, code }: Pick<RowProblem, 'column' | 'code'>): boolean =>
  column !== null && code !== 'row-without-code' && code !== 'row-code-twice' && code !== 'row-code-in-book';
