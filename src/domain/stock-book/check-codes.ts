import { groupBy } from '#units/group-by.ts';
import type { DraftRow } from './draft-row.ts';
import type { BookFacts } from './plan.ts';
import type { RowProblem } from './row-problem.ts';

const problem = (
  row: number,
  column: number | null,
  told: Omit<RowProblem, 'row' | 'column' | 'suggestions'> & { suggestions?: string[] },
): RowProblem => ({
  row,
  column,
  suggestions: [],
  ...told,
});

/** Another code for the second bearer: with her year behind it, when the two are of different years. */
function otherCode(draft: DraftRow, first: DraftRow): string[] {
  return draft.year === null || draft.year === first.year ? [] : [`${draft.code}/${String(draft.year).slice(-2)}`];
}

/** Rows without a code, and codes two queens without an end would bear at one time. */
export function codesTwice(drafts: readonly DraftRow[], column: number | null): RowProblem[] {
  const without = drafts
    .filter(({ code }) => code === '')
    .map(({ row }) => problem(row, column, { code: 'row-without-code', found: '', values: {}, weight: 'must' }));
  const byCode = groupBy(
    drafts.filter(({ code, fate }) => code !== '' && fate === null),
    ({ code }) => code,
  );
  const twice = [...byCode.values()].flatMap(([first, ...others]) =>
    first === undefined
      ? []
      : others.map((draft) =>
          problem(draft.row, column, {
            code: 'row-code-twice',
            found: draft.code,
            values: { other: first.row, code: draft.code },
            weight: 'must',
            suggestions: otherCode(draft, first),
          }),
        ),
  );
  return [...without, ...twice];
}

/** Rows whose code a living queen of the book bears: she is written down already, and the row is left out unless it is mended. */
export function codesInBook(drafts: readonly DraftRow[], book: BookFacts, column: number | null): RowProblem[] {
  const living = new Set(book.queens.filter(({ gone }) => !gone).map(({ code }) => code));
  return drafts
    .filter(({ code, fate }) => fate === null && living.has(code))
    .map((draft) =>
      problem(draft.row, column, {
        code: 'row-code-in-book',
        found: draft.code,
        values: { code: draft.code },
        weight: 'choice',
      }),
    );
}

/** Discs two queens of one year without an end would wear. */
export function discsTwice(drafts: readonly DraftRow[], column: number | null): RowProblem[] {
  const worn = drafts.filter(({ disc, year, fate }) => disc !== null && year !== null && fate === null);
  return [...groupBy(worn, ({ disc, year }) => `${year} ${disc}`).values()].flatMap(([first, ...others]) =>
    first === undefined
      ? []
      : others.map((draft) =>
          problem(draft.row, column, {
            code: 'row-disc-twice',
            found: String(draft.disc),
            values: { other: first.row, year: String(draft.year) },
            weight: 'said',
          }),
        ),
  );
}
