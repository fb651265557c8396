import type { Day } from '#units/calendar-day.ts';
import { nearness } from '../finding/nearness.ts';
import type { DraftRow } from './draft-row.ts';
import type { BookFacts, QueenRef } from './plan.ts';

/** A queen a code may mean. */
export type Bearer = { ref: QueenRef; code: string; emerged: Day | null; year: number | null; row: number | null };

/** The last day a queen can have emerged on to be the dam of one who emerged then; `null` = nothing is known. */
export type Before = { day: Day | null; year: number | null };

const plain = (code: string): string => code.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');

export const keyOfRow = (row: number): string => `row ${row}`;

/** Every queen of sheet and book by what she is or was called. */
export class Bearers {
  readonly #exact = new Map<string, Bearer[]>();
  readonly #loose = new Map<string, Set<string>>();

  constructor(drafts: readonly DraftRow[], book: BookFacts) {
    for (const draft of drafts) {
      if (draft.sisters !== null) continue;
      const bearer = {
        ref: { planned: keyOfRow(draft.row) },
        code: draft.code,
        emerged: draft.emerged?.day ?? null,
        year: draft.year,
        row: draft.row,
      };
      for (const name of new Set([draft.code, draft.writtenCode, draft.formerCode]))
        if (name !== null) this.#add(name, bearer);
    }
    const inBook = new Map(book.queens.map((queen) => [queen.id, queen]));
    const bearerOf = ({ id, code, emerged, year }: BookFacts['queens'][number]): Bearer => ({
      ref: { book: id },
      code,
      emerged,
      year,
      row: null,
    });
    for (const queen of book.queens) this.#add(queen.code, bearerOf(queen));
    for (const { queen, code } of book.formerCodes) {
      const her = inBook.get(queen);
      if (her !== undefined) this.#add(code, bearerOf(her));
    }
  }

  #add(code: string, bearer: Bearer): void {
    if (code === '') return;
    const bearers = this.#exact.get(code);
    if (bearers === undefined) this.#exact.set(code, [bearer]);
    else bearers.push(bearer);
    const loose = plain(code);
    this.#loose.set(loose, (this.#loose.get(loose) ?? new Set()).add(code));
  }

  isCode = (code: string): boolean => this.#exact.has(code);

  /** The code as it is written elsewhere, when only dashes, spaces and case differ and no second one is as near. */
  #asWritten(code: string): string {
    if (this.#exact.has(code)) return code;
    const same = this.#loose.get(plain(code));
    return same?.size === 1 ? ([...same][0] ?? code) : code;
  }

  /**
   * The queen a code means: of several bearers the youngest that can be older than `before`, never `not`. `null` when nobody bears it.
   */
  find(code: string, { before, not }: { before: Before; not: number | null }): Bearer | null {
    const bearers = this.#exact.get(this.#asWritten(code)) ?? [];
    const others = bearers.filter(({ row }) => row === null || row !== not);
    const older = others.filter((bearer) => !isYounger(bearer, before));
    const byAge = (a: Bearer, b: Bearer) =>
      (a.emerged ?? `${a.year ?? 0}`) < (b.emerged ?? `${b.year ?? 0}`) ? 1 : -1;
    return [...(older.length > 0 ? older : others)].sort(byAge)[0] ?? bearers[0] ?? null;
  }

  /** Codes like this one, the likeliest first: what a slip of the pen may have meant. */
  near(code: string): string[] {
    const found: { other: string; near: number }[] = [];
    for (const other of this.#exact.keys()) {
      if (Math.abs(other.length - code.length) > 2) continue;
      const near = nearness(code, other);
      if (near > 0) found.push({ other, near });
    }
    return found
      .sort((a, b) => b.near - a.near)
      .slice(0, 3)
      .map(({ other }) => other);
  }
}

/** Whether a queen surely emerged later than (or with) another. */
export function isYounger(one: Pick<Bearer, 'emerged' | 'year'>, than: Before): boolean {
  if (one.emerged !== null && than.day !== null) return one.emerged >= than.day;
  return one.year !== null && than.year !== null && one.year > than.year;
}
