import type { Answers, CodeNames } from './choices.ts';
import type { DraftRow } from './draft-row.ts';
import type { RowProblem } from './row-problem.ts';

/** The year a row is about, as far as it says: when she emerged, else when she was inseminated. */
const yearOfRow = ({ year, inseminated }: DraftRow): number | null =>
  year ?? (inseminated === null ? null : Number(inseminated.slice(0, 4)));

function namesHive(draft: DraftRow, names: CodeNames): boolean {
  if (typeof names === 'string') return names === 'hive';
  const year = yearOfRow(draft);
  return year === null || year > names.queenUntil;
}

/** A queen named by her hive: the hive is where she stands, and she is called by hive and year, so that the next one there is another. */
function calledByHive(draft: DraftRow): DraftRow {
  const year = String(yearOfRow(draft)).slice(-2);
  return { ...draft, code: `${draft.code}/${year}`, writtenCode: draft.code, hive: draft.hive ?? draft.code };
}

/**
 * Gives each row the code of its queen, by what the person says the codes name. Where they name hives a queen is called "12/25": hive 12, of
 * 2025; the hive number stays findable as a former code. A row without any year cannot be told from others of its hive.
 */
export function nameCodes(
  drafts: readonly DraftRow[],
  answer: Answers['codeNames'],
  codeColumn: number | null,
): { drafts: DraftRow[]; problems: RowProblem[] } {
  const problems: RowProblem[] = [];
  const named = drafts.map((draft) => {
    if (answer === undefined || draft.code === '' || !namesHive(draft, answer)) return draft;
    if (yearOfRow(draft) !== null) return calledByHive(draft);
    const at = { row: draft.row, column: codeColumn, found: draft.code };
    problems.push({ ...at, code: 'row-hive-without-year', values: {}, weight: 'must', suggestions: [] });
    return draft;
  });
  return { drafts: named, problems };
}
