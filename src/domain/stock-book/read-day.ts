import { addDays, type Day, dayOf, daysBetween, parseDay, yearOf } from '#units/calendar-day.ts';
import { monthNamed } from './month-words.ts';
import { plainWord } from './plain-words.ts';
import type { Cell } from './table.ts';
import { unknownWords } from './value-words.ts';

/** What a cell says about a day. `either` is one of two days, by which of its figures is the month. */
export type DayReading =
  | { is: 'nothing' }
  | { is: 'day'; day: Day }
  | { is: 'about'; day: Day; days: number }
  | { is: 'year'; year: number }
  | { is: 'either'; dayFirst: Day; monthFirst: Day }
  | { is: 'no-year'; date: number; month: number }
  | { is: 'impossible' }
  | { is: 'unreadable' };

/** Which figure comes first where a sheet writes 3/5: `null` = not decided yet. */
export type DayOrder = 'day-first' | 'month-first' | null;

export type DayOptions = { order: DayOrder; today: Day };

/** Days a spreadsheet counts from 30 December 1899 (ECMA-376 Part 1, 18.17.4: serial 1 is 1 January 1900, with its 29 February 1900). */
const SERIAL_START = '1899-12-30' as Day;
/** Serial numbers of 1950 to 2079: others are no day of a stock book. */
const SERIALS = { from: 18_264, to: 65_745 };
const YEARS = { from: 1950, to: 2100 };

const inYears = (year: number): boolean => year >= YEARS.from && year <= YEARS.to;

/** Two figures for a year: not further ahead than next year, else the century before. */
function fullYear(text: string, today: Day): number {
  if (text.length > 2) return Number(text);
  const year = 2000 + Number(text);
  return year > yearOf(today) + 1 ? year - 100 : year;
}

const asDay = (year: number, month: number, date: number): DayReading => {
  const day = inYears(year) ? dayOf(year, month, date) : null;
  return day === null ? { is: 'impossible' } : { is: 'day', day };
};

/** Two figures of which one is the day: decided by the sheet's order, by one being no month, or not at all. */
function ordered(one: number, other: number, year: number, order: DayOrder): DayReading {
  const dayFirst = dayOf(year, other, one);
  const monthFirst = dayOf(year, one, other);
  if (!inYears(year) || (dayFirst === null && monthFirst === null)) return { is: 'impossible' };
  if (order === 'day-first') return dayFirst === null ? { is: 'impossible' } : { is: 'day', day: dayFirst };
  if (order === 'month-first') return monthFirst === null ? { is: 'impossible' } : { is: 'day', day: monthFirst };
  if (dayFirst === null || monthFirst === null) return { is: 'day', day: (dayFirst ?? monthFirst) as Day };
  return dayFirst === monthFirst ? { is: 'day', day: dayFirst } : { is: 'either', dayFirst, monthFirst };
}

function figures(text: string, { order, today }: DayOptions): DayReading | null {
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/.exec(text);
  if (iso !== null) return asDay(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const three = /^(\d{1,2})\s*([-/.])\s*(\d{1,2})\s*[-/.]\s*(\d{4}|\d{2})(?:[T ]+\d{1,2}:.*)?$/.exec(text);
  if (three !== null) {
    const [, one, sign, other, year] = three;
    // With points the day always stands first; no country writes 5.27.2026.
    const by = sign === '.' ? 'day-first' : order;
    return ordered(Number(one), Number(other), fullYear(year ?? '', today), by);
  }
  const two = /^(\d{1,2})\s*[./]\s*(\d{1,2})\.?$/.exec(text);
  if (two !== null) {
    const [one, other] = [Number(two[1]), Number(two[2])];
    const [date, month] = order === 'month-first' ? [other, one] : [one, other];
    return month > 12 || date > 31 ? { is: 'impossible' } : { is: 'no-year', date, month };
  }
  const monthOfYear = /^(\d{1,2})\s*[/.-]\s*(\d{4})$/.exec(text);
  if (monthOfYear !== null) return wholeMonth(Number(monthOfYear[1]), Number(monthOfYear[2]));
  return null;
}

function wholeMonth(month: number, year: number): DayReading {
  const middle = inYears(year) ? dayOf(year, month, 15) : null;
  return middle === null ? { is: 'impossible' } : { is: 'about', day: middle, days: 15 };
}

/** Parts of a month in words, with their middle day and how far it may be off. */
const partsOfMonth: readonly (readonly [readonly string[], number])[] = [
  [['early', 'beginning', 'begin', 'start', 'anfang', 'debut', 'principios', 'inizio', 'poczatek'], 5],
  [['mid', 'middle', 'mitte', 'mi', 'mediados', 'meta', 'polowa'], 15],
  [['late', 'end', 'ende', 'fin', 'finales', 'fine', 'koniec'], 25],
];
const OFF_IN_A_PART = 5;

function inWords(text: string, { today }: DayOptions): DayReading | null {
  const words = plainWord(text).split(' ');
  const at = words.findIndex((word) => monthNamed(word) !== null);
  const month = monthNamed(words[at] ?? '');
  if (month === null) return null;
  const others = words.filter((word, i) => i !== at && !['of', 'de', 'del', 'di', 'd', 'r', 'th', 'st'].includes(word));
  const part = partsOfMonth.find(([names]) => others.some((word) => names.includes(word)));
  const numbers = others.flatMap((word) => /^(\d{1,4})(st|nd|rd|th|er)?$/.exec(word)?.[1] ?? []);
  const year = numbers.find((number) => number.length === 4) ?? numbers[1] ?? (part ? numbers[0] : undefined);
  const date = part === undefined ? numbers.find((number) => number !== year) : undefined;
  if (year === undefined && date === undefined) return { is: 'unreadable' };
  if (year === undefined) return { is: 'no-year', date: Number(date), month };
  const full = fullYear(year, today);
  if (part !== undefined) {
    const middle = inYears(full) ? dayOf(full, month, part[1]) : null;
    return middle === null ? { is: 'impossible' } : { is: 'about', day: middle, days: OFF_IN_A_PART };
  }
  return date === undefined ? wholeMonth(month, full) : asDay(full, month, Number(date));
}

/** Words and signs by which a day is only about right. */
const ABOUT =
  /^\s*(?:~|≈|about|approx\.?|around|ca?\.?|circa|etwa|ungef(?:ä|ae)hr|um|vers|environ|hacia|alrededor de|verso|okolo|około)\s*(?=[\p{L}\d])|\?\s*$/iu;
const USUALLY_OFF = 5;

function asAbout(reading: DayReading): DayReading {
  return reading.is === 'day' ? { is: 'about', day: reading.day, days: USUALLY_OFF } : reading;
}

function fromSerial(number: number): DayReading {
  const whole = Math.floor(number);
  if (whole >= YEARS.from && whole <= YEARS.to && whole === number) return { is: 'year', year: whole };
  if (whole < SERIALS.from || whole > SERIALS.to) return { is: 'unreadable' };
  return { is: 'day', day: addDays(SERIAL_START, whole) };
}

/**
 * What a cell says about a day: a spreadsheet's own day or serial number, ISO, figures in either order, month words of six languages,
 * only a month or a year, "about", "mid June". 31 June is `impossible`, words that are no day `unreadable`.
 * @example readDay('12/6/2026', { order: null, today }) // { is: 'either', dayFirst: '2026-06-12', monthFirst: '2026-12-06' }
 */
export function readDay(cell: Cell | undefined, options: DayOptions): DayReading {
  if (cell === undefined || cell === '') return { is: 'nothing' };
  if (typeof cell === 'object') return inYears(yearOf(cell.day)) ? { is: 'day', day: cell.day } : { is: 'impossible' };
  if (typeof cell === 'number') return fromSerial(cell);
  const text = cell.trim();
  if (unknownWords.has(text.toLowerCase())) return { is: 'nothing' };
  if (/^\d{4,5}([.,]\d+)?$/.test(text)) return fromSerial(Number(text.replace(',', '.')));
  const plain = text.replace(ABOUT, '').trim();
  const read = parseIso(plain) ?? figures(plain, options) ?? inWords(plain, options) ?? { is: 'unreadable' as const };
  return plain === text ? read : asAbout(read);
}

const parseIso = (text: string): DayReading | null => {
  const day = parseDay(text);
  return day === null ? null : inYears(yearOf(day)) ? { is: 'day', day } : { is: 'impossible' };
};

/** The day of a date without its year, in a year that is known otherwise. */
export const inYear = ({ date, month }: { date: number; month: number }, year: number): Day | null =>
  dayOf(year, month, date);

/** How many cells of a column prove each order, and how many can be read either way. */
export type OrderProof = { dayFirst: number; monthFirst: number; either: number };

/** Looks through a column for figures that can be read in one order only. */
export function orderProof(cells: readonly (Cell | undefined)[], today: Day): OrderProof {
  const proof: OrderProof = { dayFirst: 0, monthFirst: 0, either: 0 };
  for (const cell of cells) {
    if (typeof cell !== 'string') continue;
    const three = /^(\d{1,2})\s*[-/]\s*(\d{1,2})\s*[-/]\s*(?:\d{4}|\d{2})\b/.exec(cell.trim().replace(ABOUT, ''));
    if (three === null) continue;
    const [one, other] = [Number(three[1]), Number(three[2])];
    if (one > 12 && other <= 12) proof.dayFirst++;
    else if (other > 12 && one <= 12) proof.monthFirst++;
    else if (one !== other && readDay(cell, { order: null, today }).is === 'either') proof.either++;
  }
  return proof;
}

/** The order a column's own figures prove: the one with clear proof and no contradiction. */
export function provenOrder({ dayFirst, monthFirst }: OrderProof): DayOrder {
  if (dayFirst > 0 && monthFirst === 0) return 'day-first';
  return monthFirst > 0 && dayFirst === 0 ? 'month-first' : null;
}

/** Whether a day lies after `today`: a queen cannot have emerged then. */
export const isAhead = (day: Day, today: Day): boolean => daysBetween(today, day) > 0;
