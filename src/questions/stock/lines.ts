import { z } from 'zod';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherStockRows, type StockRow, stockRowReads } from './stock-book.ts';

/** How a line stands: who founded it and who of it lives. */
export type LineStanding = {
  id: string;
  name: string;
  rule: string | null;
  founders: string[];
  living: number;
  unknown: number;
  gone: number;
  /** Queens of the line by year of emergence, the oldest first; years nobody emerged in are left out. */
  years: { year: number; queens: number; living: number }[];
};

const input = z.strictObject({ today: dayShape });
type Gathered = { lines: Row<'line'>[]; founders: Row<'line_founder'>[]; queens: StockRow[] };

function yearsOf(queens: readonly StockRow[]): LineStanding['years'] {
  const years = new Map<number, { year: number; queens: number; living: number }>();
  for (const { year, living } of queens) {
    if (year === null) continue;
    const of = years.get(year) ?? { year, queens: 0, living: 0 };
    years.set(year, { year, queens: of.queens + 1, living: of.living + (living === 'alive' ? 1 : 0) });
  }
  return [...years.values()].sort((a, b) => a.year - b.year);
}

/** The lines with their living queens: which one is getting thin (fewer than three living). */
export const lineStandings: Question<{ today: Day }, Gathered, { lines: LineStanding[] }> = question({
  name: 'lines',
  what: 'Every line with its founders and how many of its queens live.',
  input: input as unknown as z.ZodType<{ today: Day }>,
  reads: [...stockRowReads, 'line_founder'],
  async gather({ today }, facts) {
    const { rows } = await gatherStockRows(facts, today);
    return { lines: await facts.find('line'), founders: await facts.find('line_founder'), queens: rows };
  },
  answer({ lines, founders, queens }) {
    const names = new Map(queens.map(({ id, code, called }) => [id, code ?? called ?? '']));
    return {
      lines: lines.map(({ id, name, rule }) => {
        const of = queens.filter(({ lineId }) => lineId === id);
        const count = (living: StockRow['living']) => of.filter((queen) => queen.living === living).length;
        const founding = founders.filter(({ line }) => line === id).map(({ queen }) => names.get(queen) ?? '');
        return {
          id,
          name,
          rule,
          founders: founding,
          living: count('alive'),
          unknown: count('unknown'),
          gone: count('gone'),
          years: yearsOf(of),
        };
      }),
    };
  },
});
