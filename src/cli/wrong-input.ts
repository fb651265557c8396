/** One thing wrong with what was given, in the order a person reads it. Everything but `found` and `remedy` may be unknown. */
export type InputProblem = {
  file?: string;
  /** Line in the file as a text editor counts it: the header is row 1. */
  row?: number;
  column?: string;
  found: string;
  expected?: string;
  remedy: string;
};

/** Thrown when the input is wrong: exit status 2, one line a problem on standard error, nothing on standard output. */
export class WrongInput extends Error {
  readonly problems: readonly InputProblem[];
  constructor(problems: readonly InputProblem[]) {
    super(problems.map(oneLine).join('\n'));
    this.problems = problems;
  }
}

/** Control characters could move the cursor or recolour a terminal; they are shown as a blank box instead. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are exactly what must be caught
const CONTROL = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/g;
export const printable = (text: string): string => text.replace(CONTROL, '▯').replaceAll('\n', ' ');

/** A flag is named as it is typed, a column as a column. */
const named = (column: string): string => (column.startsWith('--') ? column : `column ${column}`);

/** `file, row 3, column dam: found "X"; expected …; do …` */
export function oneLine(problem: InputProblem): string {
  const place = [
    problem.file,
    problem.row === undefined ? undefined : `row ${problem.row}`,
    problem.column === undefined ? undefined : named(problem.column),
  ].filter((part) => part !== undefined);
  const said = [
    `found ${problem.found}`,
    problem.expected === undefined ? undefined : `expected ${problem.expected}`,
    problem.remedy,
  ].filter((part) => part !== undefined);
  return printable(`${place.length > 0 ? `${place.join(', ')}: ` : ''}${said.join('; ')}`);
}
