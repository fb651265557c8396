import { monthNamed } from './month-words.ts';
import { plainWord } from './plain-words.ts';
import { type Cell, cellText } from './table.ts';

/** How the other codes of a column are written: their sign, and whether single figures have a nought before them. */
export type CodeHabit = { sign: string; padded: boolean };

/** The usual sign between figures in codes that are whole, and whether `03-05` is written rather than `3-5`. */
export function codeHabit(cells: readonly Cell[]): CodeHabit {
  const signs = new Map<string, number>();
  let padded = 0;
  let bare = 0;
  for (const cell of cells) {
    if (typeof cell !== 'string' || spoiled(cell) !== null) continue;
    const parts = /^(\d+)([-/._ ])(\d+)$/.exec(cell);
    if (parts === null) continue;
    signs.set(parts[2] ?? '', (signs.get(parts[2] ?? '') ?? 0) + 1);
    if (/^0/.test(parts[1] ?? '') || /^0/.test(parts[3] ?? '')) padded++;
    else if ((parts[1] ?? '').length === 1 || (parts[3] ?? '').length === 1) bare++;
  }
  const [sign] = [...signs].sort((a, b) => b[1] - a[1])[0] ?? ['-'];
  return { sign, padded: padded > bare };
}

/** A code a spreadsheet took for something else: two figures it took for a day, or a power of ten. */
export type SpoiledCode = { is: 'day'; date: number; month: number } | { is: 'power'; code: string };

/** `1.20E+04` was `12E3`: the shortest whole mantissa above 9 that gives the same number. */
function powerCode(number: number): string | null {
  for (let power = 1; power <= 9; power++) {
    const mantissa = number / 10 ** power;
    if (Number.isInteger(mantissa) && mantissa >= 1 && mantissa < 100) return `${mantissa}E${power}`;
  }
  return null;
}

/**
 * What a code cell was before a spreadsheet changed it, when it shows such damage: a day ("3-5" became 3 May) or a power ("12E3"
 * became 12000). About one in five published gene lists carries it (Ziemann, Eren and El-Osta 2016, Genome Biology 17:177).
 */
export function spoiled(cell: Cell): SpoiledCode | null {
  if (typeof cell === 'object') {
    const [, month, date] = cell.day.split('-').map(Number);
    return { is: 'day', date: date ?? 1, month: month ?? 1 };
  }
  const text = cellText(cell);
  const power = /^\d[.,]\d+E\+?(\d{1,2})$/i.exec(text);
  if (power !== null) {
    const code = powerCode(Number(text.replace(',', '.')));
    return code === null ? null : { is: 'power', code };
  }
  const dayMonth = /^(\d{1,2})[-. ]+(\p{L}{3,9})\.?(?:[-. ]\d{2,4})?$/u.exec(text);
  const monthDay = /^(\p{L}{3,9})[-. ]+(\d{1,2})(?:[-. ]\d{2,4})?$/u.exec(text);
  const month = monthNamed(plainWord(dayMonth?.[2] ?? monthDay?.[1] ?? ''));
  const date = Number(dayMonth?.[1] ?? monthDay?.[2]);
  return month === null ? null : { is: 'day', date, month };
}

/** The code as it was, in the habit of the others. `first` says which figure stood first. */
export function repairedCode(damage: SpoiledCode, habit: CodeHabit, first: 'day-month' | 'month-day'): string {
  if (damage.is === 'power') return damage.code;
  const figure = (number: number) => String(number).padStart(habit.padded ? 2 : 1, '0');
  const parts = first === 'day-month' ? [damage.date, damage.month] : [damage.month, damage.date];
  return parts.map(figure).join(habit.sign);
}
