import type { DronePart, DroneSide } from '#domain/stock-book/drone-side.ts';
import type { StockRow } from '#questions/stock/stock-book.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { today } from '../link/this-device.ts';

/** A figure with so many decimals at most, in the person's number style. */
export const figure = (value: number, decimals = 2): string =>
  new Intl.NumberFormat(language(), { maximumFractionDigits: decimals }).format(value);

/** A share as "60 %". */
export const shareWords = (share: number): string =>
  new Intl.NumberFormat(language(), { style: 'percent', maximumFractionDigits: 0 }).format(share);

function partWords(part: DronePart): string {
  if (part.from === 'open') return say('drones.open');
  if (part.from === 'batch') return part.name;
  return part.sisters > 1 ? say('drones.sisters', { name: part.name, n: part.sisters }) : part.name;
}

const listed = (parts: readonly string[], type: 'conjunction' | 'disjunction'): string =>
  new Intl.ListFormat(language(), { type }).format(parts);

/** A drone side in one line: "M-03", "M 60 %, N 40 %", "R-07 or R-09, rather R-07", "C-07 of M and N", "open mated". */
export function droneWords({ oneOf, parts }: DroneSide): string {
  const [first, second] = parts;
  if (first === undefined) return '';
  if (oneOf) {
    const names = listed(parts.map(partWords), 'disjunction');
    const clear = second !== undefined && first.share > second.share;
    return clear ? say('drones.rather', { names, likeliest: partWords(first) }) : names;
  }
  if (second !== undefined)
    return listed(
      parts.map((part) => `${partWords(part)} ${shareWords(part.share)}`),
      'conjunction',
    );
  if (first.from !== 'batch') return partWords(first);
  return say('drones.batch', { batch: first.name, of: listed(first.parts.map(partWords), 'conjunction') });
}

/** When she emerged, as far as it is known: a day, "about" a day, a year, or nothing. */
export function emergedWords({ emerged, about, year }: Pick<StockRow, 'emerged' | 'about' | 'year'>): string | null {
  if (emerged === null) return year === null ? null : String(year);
  if (about === null || about === 0) return dayWords(emerged, today());
  return say('queen.about', { day: shortDay(emerged), days: about });
}
