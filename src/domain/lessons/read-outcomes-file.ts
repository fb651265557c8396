import { type CsvProblem, openCsv, readRows } from '#numeric/csv/csv.ts';
import type { Outcome } from './outcome.ts';
import { type OutcomeProblem, readOutcomes } from './read-outcomes.ts';

/** The outcomes of a file and its columns; or what is wrong with the form of the table, or with what its rows say. */
export type OutcomesFile =
  | { columns: readonly string[]; outcomes: Outcome[] }
  | { form: CsvProblem[] }
  | { problems: OutcomeProblem[] };

/** Reads the bytes of an OUTCOMES.csv (contracts.md, Files). Either all of it is right, or the problems are named and nothing is read. */
export function readOutcomesFile(bytes: Uint8Array): OutcomesFile {
  const csv = openCsv(bytes);
  if ('code' in csv) return { form: [csv] };
  const { rows, problems: form } = readRows(csv);
  if (form.length > 0) return { form };
  const { outcomes, problems } = readOutcomes({ columns: csv.columns, rows, decimalComma: csv.decimalComma });
  return problems.length > 0 ? { problems } : { columns: csv.columns, outcomes };
}
