import { type Day, yearOf } from '#units/calendar-day.ts';
import { yearMark } from '../marking/year-colour.ts';
import type { DraftDay, DraftRow } from './draft-row.ts';
import { headingMeanings } from './guess-columns.ts';
import { readMatingWords } from './mating-words.ts';
import type { Meaning } from './meaning.ts';
import { meaningOfWord, plainWord } from './plain-words.ts';
import { type DayOrder, inYear, isAhead, readDay } from './read-day.ts';
import type { RowProblem, RowProblemCode } from './row-problem.ts';
import { type Cell, cellText } from './table.ts';
import { clipWords, colourWords, fateWords, unknownWords } from './value-words.ts';

/** What holds for every row of a sheet. */
export type RowContext = {
  columnOf: ReadonlyMap<Meaning, number>;
  headings: readonly string[];
  noteColumns: readonly number[];
  order: DayOrder;
  today: Day;
  decimalComma: boolean;
  isCode: (text: string) => boolean;
  /** What the drone column names is a place, not codes: it is not read as a mating. */
  dronesArePlace: boolean;
};

/** One row under the reader's eye. */
type Reading = {
  context: RowContext;
  cells: readonly Cell[];
  row: number;
  /** Columns the person wants kept as a note. */
  asNote: ReadonlySet<number>;
  problems: RowProblem[];
  notes: string[];
};

const isUnknown = (text: string): boolean => unknownWords.has(text.toLowerCase());

/** The cell of a meaning; nothing when there is no such column or the person keeps it as a note. */
function cellOf(reading: Reading, meaning: Meaning): Cell {
  const column = reading.context.columnOf.get(meaning);
  if (column === undefined || reading.asNote.has(column)) return '';
  return reading.cells[column] ?? '';
}

function textOf(reading: Reading, meaning: Meaning): string | null {
  const text = cellText(cellOf(reading, meaning)).trim();
  return text === '' || isUnknown(text) ? null : text;
}

type Told = {
  values?: RowProblem['values'];
  weight?: RowProblem['weight'];
  suggestions?: readonly string[];
  found?: string;
};

function tell(reading: Reading, meaning: Meaning, code: RowProblemCode, told: Told = {}): void {
  const { values = {}, weight = 'must', suggestions = [] } = told;
  const found = told.found ?? cellText(cellOf(reading, meaning));
  const column = reading.context.columnOf.get(meaning) ?? null;
  reading.problems.push({ row: reading.row, column, code, found, values, weight, suggestions });
}

/** A positive number with comma or point; a grouping such as 1,234 is refused, because nobody can tell what it means. */
function numberOf(reading: Reading, meaning: Meaning): number | null {
  const cell = cellOf(reading, meaning);
  if (typeof cell === 'number') return cell;
  const text = textOf(reading, meaning)?.replace(/\s*(µl|μl|ul|mm3|mm³)$/i, '') ?? null;
  if (text === null) return null;
  const isGrouping = /^\d{1,3}([.,]\d{3})+$/.test(text) && !/^0[.,]/.test(text);
  if (/^\d+([.,]\d+)?$/.test(text) && !isGrouping) return Number(text.replace(',', '.'));
  tell(reading, meaning, 'row-not-a-number');
  return null;
}

function wholeOf(reading: Reading, meaning: Meaning): number | null {
  const number = numberOf(reading, meaning);
  if (number === null || (Number.isInteger(number) && number >= 0)) return number;
  tell(reading, meaning, 'row-not-a-number');
  return null;
}

type Dated = { day: DraftDay | null; year: number | null };
const NO_DAY: Dated = { day: null, year: null };

/** A day column of the row; `year` is taken where a day stands without its year. */
function dayOf(reading: Reading, meaning: Meaning, year: number | null): Dated {
  const { order, today } = reading.context;
  const read = readDay(cellOf(reading, meaning), { order, today });
  const known = (day: Day, about: number | null): Dated => {
    if (isAhead(day, today)) tell(reading, meaning, 'row-day-ahead', { values: { day, today } });
    return { day: { day, about }, year: yearOf(day) };
  };
  switch (read.is) {
    case 'nothing':
      return NO_DAY;
    case 'day':
      return known(read.day, null);
    case 'about':
      return known(read.day, read.days);
    case 'year':
      return { day: null, year: read.year };
    case 'either':
      // The question of the order stands above the rows; until it is answered the day is not known.
      return { day: null, year: yearOf(read.dayFirst) };
    case 'no-year': {
      const day = year === null ? null : inYear(read, year);
      if (day !== null) return known(day, null);
      tell(reading, meaning, year === null ? 'row-day-without-year' : 'row-impossible-day');
      return NO_DAY;
    }
    case 'impossible':
      tell(reading, meaning, 'row-impossible-day');
      return NO_DAY;
    case 'unreadable':
      tell(reading, meaning, 'row-unreadable-day');
      return NO_DAY;
  }
}

/** The year a code such as `26-014` begins with, when it can be one. */
export function yearInCode(code: string, today: Day): number | null {
  const found = /^(\d{4}|\d{2})[-/._ ]\D?\d+/.exec(code)?.[1];
  if (found === undefined) return null;
  const year = found.length === 4 ? Number(found) : 2000 + Number(found);
  return year >= 1990 && year <= yearOf(today) + 1 ? year : null;
}

/** Colour and number may stand in one cell: "red 14". */
function markOf(reading: Reading, year: number | null): Pick<DraftRow, 'colour' | 'disc'> {
  const text = textOf(reading, 'colour');
  const disc = wholeOf(reading, 'disc');
  if (text === null) return { colour: null, disc };
  const words = plainWord(text).split(' ');
  const number = words.find((word) => /^\d{1,4}$/.test(word));
  const rest = words.filter((word) => word !== number).join(' ');
  const colour = rest === '' ? null : meaningOfWord(rest, colourWords);
  if (rest !== '' && colour === null)
    tell(reading, 'colour', 'row-unknown-colour', { suggestions: ['white', 'yellow', 'red', 'green', 'blue'] });
  const due = year === null ? null : yearMark(year).colour;
  if (colour !== null && colour !== 'none' && due !== null && colour !== due)
    tell(reading, 'colour', 'row-colour-not-of-year', { values: { year: String(year), due }, weight: 'said' });
  return { colour, disc: disc ?? (number === undefined ? null : Number(number)) };
}

function fateOf(reading: Reading, year: number | null): Pick<DraftRow, 'fate' | 'living'> {
  const text = textOf(reading, 'fate');
  const on = dayOf(reading, 'fate-on', year);
  const cause = textOf(reading, 'cause');
  const kind = text === null ? null : text.includes('†') ? 'died' : meaningOfWord(text, fateWords);
  if (text !== null && kind === null)
    tell(reading, 'fate', 'row-unknown-fate', {
      suggestions: ['living', 'died', 'lost', 'superseded', 'sold', 'culled'],
    });
  if (kind === 'living') return { fate: null, living: true };
  if (kind !== null) return { fate: { kind, on: on.day?.day ?? null, cause }, living: false };
  // A day on which she ended, without a word how, is an end all the same.
  if (text === null && on.day !== null) return { fate: { kind: 'lost', on: on.day.day, cause }, living: false };
  return { fate: null, living: false };
}

function clipOf(reading: Reading): DraftRow['clip'] {
  const text = textOf(reading, 'clip');
  if (text === null) return null;
  const side = meaningOfWord(text, clipWords);
  if (side === null) tell(reading, 'clip', 'row-unknown-clip', { suggestions: ['left', 'right', 'none'] });
  return side;
}

function matingOf(reading: Reading): DraftRow['mating'] {
  const text = textOf(reading, 'drones');
  if (text === null) return null;
  const { isCode, decimalComma, dronesArePlace } = reading.context;
  if (dronesArePlace) return { is: 'named', oneOf: false, parts: [{ code: text, share: 1, filledIn: false }] };
  const read = readMatingWords(text, { isCode, decimalComma });
  if ('is' in read) return read;
  tell(reading, 'drones', 'row-mating-unreadable', { values: { why: read.code } });
  return null;
}

/** A heading that only says "note" adds nothing to what is noted. */
const isNoteHeading = (heading: string): boolean => headingMeanings(heading)[0]?.meaning === 'note';

function keptNotes(reading: Reading): string[] {
  const { headings, noteColumns } = reading.context;
  const columns = [...noteColumns, ...reading.asNote].filter((column, i, all) => all.indexOf(column) === i);
  return columns.flatMap((column) => {
    const text = cellText(reading.cells[column]).trim();
    if (text === '') return [];
    const heading = headings[column] ?? '';
    return [heading === '' || isNoteHeading(heading) ? text : `${heading}: ${text}`];
  });
}

/** A row as far as it can be understood by itself, and what in it needs a look. */
export function readRow(
  context: RowContext,
  { row, cells, asNote }: { row: number; cells: readonly Cell[]; asNote: ReadonlySet<number> },
): { draft: DraftRow; problems: RowProblem[] } {
  const reading: Reading = { context, cells, row, asNote, problems: [], notes: [] };
  const code = cellText(cellOf(reading, 'code')).trim();
  const inCode = yearInCode(code, context.today);
  const written = dayOf(reading, 'year', null).year;
  const emerged = dayOf(reading, 'emerged', written ?? inCode);
  const year = emerged.year ?? written;
  const inseminated = dayOf(reading, 'inseminated', year ?? inCode).day?.day ?? null;
  if (emerged.day !== null && inseminated !== null && emerged.day.about === null && inseminated < emerged.day.day)
    tell(reading, 'inseminated', 'row-before-emergence', { values: { emerged: emerged.day.day } });
  const sisters = wholeOf(reading, 'sisters');
  const draft: DraftRow = {
    row,
    code,
    writtenCode: null,
    emerged: emerged.day,
    year,
    dam: textOf(reading, 'dam'),
    mating: matingOf(reading),
    drones: numberOf(reading, 'drone-count'),
    batch: textOf(reading, 'semen'),
    inseminated,
    dose: numberOf(reading, 'dose'),
    ...markOf(reading, year),
    clip: clipOf(reading),
    line: textOf(reading, 'line'),
    yard: textOf(reading, 'yard'),
    hive: textOf(reading, 'hive'),
    ...fateOf(reading, year ?? inCode),
    formerCode: textOf(reading, 'former-code'),
    sisters: sisters === null || sisters < 2 ? null : sisters,
    notes: [],
  };
  const origin = textOf(reading, 'origin');
  draft.notes = [
    ...keptNotes(reading),
    ...(origin === null ? [] : [`${context.headings[context.columnOf.get('origin') ?? -1] ?? ''}: ${origin}`]),
  ];
  if (draft.batch !== null && draft.mating !== null) tell(reading, 'semen', 'row-mating-twice');
  return { draft, problems: reading.problems };
}
