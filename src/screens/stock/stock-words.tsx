import type { StockRow } from '#questions/stock/stock-book.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';

/** When she emerged, as far as it is known: a day, "about" a day, a year, or nothing. */
export function emergedWords({ emerged, about, year }: Pick<StockRow, 'emerged' | 'about' | 'year'>): string | null {
  if (emerged === null) return year === null ? null : String(year);
  if (about === null || about === 0) return dayWords(emerged, today());
  return say('queen.about', { day: shortDay(emerged), days: about });
}
