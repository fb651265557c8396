import { addDays, type Day, dayOf, daysBetween, parseDay, yearOf } from './calendar-day.ts';

/** What a typed day is read against. */
export type TypedDayOptions = {
  /** The day `+7` counts from, and whose year is taken when none is typed. */
  today: Day;
  /** Whether `12/6` is 12 June. Points and dashes are always read day first. */
  dayFirst: boolean;
  /** Words for the months, January first, lower case, short and long. */
  months?: readonly (readonly string[])[];
  /** The insemination day, when there is one: `I-20` counts from it. */
  insemination?: Day;
};

const ENGLISH = [
  ['jan', 'january'],
  ['feb', 'february'],
  ['mar', 'march'],
  ['apr', 'april'],
  ['may'],
  ['jun', 'june'],
  ['jul', 'july'],
  ['aug', 'august'],
  ['sep', 'sept', 'september'],
  ['oct', 'october'],
  ['nov', 'november'],
  ['dec', 'december'],
] as const;

const FULL_YEAR = /^\d{4}$/;

function yearFrom(text: string | undefined): number | null {
  if (text === undefined || text === '') return null;
  return FULL_YEAR.test(text) ? Number(text) : 2000 + Number(text);
}

/** Without a year: the one of this day that lies nearest to `today` (in January, `28.12.` is last month). */
function nearestYear(month: number, date: number, today: Day): Day | null {
  const found = [-1, 0, 1].flatMap((shift) => dayOf(yearOf(today) + shift, month, date) ?? []);
  return found.sort((a, b) => Math.abs(daysBetween(today, a)) - Math.abs(daysBetween(today, b)))[0] ?? null;
}

function complete(date: number, month: number, year: string | undefined, today: Day): Day | null {
  const known = yearFrom(year);
  return known === null ? nearestYear(month, date, today) : dayOf(known, month, date);
}

function counted(text: string, { today, insemination }: TypedDayOptions): Day | null {
  const plain = /^([+-])\s*(\d{1,4})$/.exec(text);
  if (plain !== null) return addDays(today, Number(`${plain[1]}${plain[2]}`));
  const fromInsemination = /^i\s*([+-])\s*(\d{1,3})$/i.exec(text);
  if (fromInsemination === null || insemination === undefined) return null;
  return addDays(insemination, Number(`${fromInsemination[1]}${fromInsemination[2]}`));
}

function monthNamed(word: string, months: readonly (readonly string[])[]): number {
  const sought = word.toLowerCase();
  const named = [ENGLISH, months].map((words) => words.findIndex((forms) => forms.some((form) => form === sought)));
  return Math.max(...named) + 1;
}

function withMonthWord(text: string, { today, months = [] }: TypedDayOptions): Day | null {
  const words = text.replace(/^[\p{L}]{2,10}[.,]?\s+(?=\d)/u, '');
  const dayFirst = /^(\d{1,2})\.?\s*(\p{L}+)\.?,?\s*(\d{4}|\d{2})?$/u.exec(words);
  if (dayFirst !== null)
    return complete(Number(dayFirst[1]), monthNamed(dayFirst[2] ?? '', months), dayFirst[3], today);
  const monthFirst = /^(\p{L}+)\.?\s*(\d{1,2}),?\s*(\d{4})?$/u.exec(text);
  if (monthFirst === null) return null;
  return complete(Number(monthFirst[2]), monthNamed(monthFirst[1] ?? '', months), monthFirst[3], today);
}

/**
 * Reads a day the way people write it: `2027-06-12`, `12.6.`, `12.6.27`, `12/6` (by `dayFirst`), `12 Jun`, `Sat 12 Jun`, `June 12`,
 * `+7`, and `I-20` where an insemination day is known. Without a year the nearest such day to `today` is meant.
 * `null` when the text is none of these or the calendar has no such day (31 June).
 * @example typedDay('12.6.', { today: '2027-05-01', dayFirst: true }) // '2027-06-12'
 */
export function typedDay(typed: string, options: TypedDayOptions): Day | null {
  const text = typed.trim();
  const figures = /^(\d{1,2})\s*([./-])\s*(\d{1,2})(?:\s*[./-]\s*(\d{4}|\d{2})?)?$/.exec(text);
  if (figures !== null) {
    const [, one, sign, other, year] = figures;
    const dayFirst = sign !== '/' || options.dayFirst;
    const [date, month] = dayFirst ? [Number(one), Number(other)] : [Number(other), Number(one)];
    return complete(date, month, year, options.today);
  }
  return parseDay(text) ?? counted(text, options) ?? withMonthWord(text, options);
}
