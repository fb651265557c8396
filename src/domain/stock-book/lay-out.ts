import type { Day } from '#units/calendar-day.ts';
import type { ImportChoices } from './choices.ts';
import { guessColumns, guessHeader } from './guess-columns.ts';
import { type ColumnMeaning, type Meaning, oneColumnOnly } from './meaning.ts';
import type { RehearsedColumn } from './rehearsal.ts';
import { type Cell, cellText, type RawTable, type TableRow } from './table.ts';

/** A sheet with its header found and its columns given their meaning; rows as the person has mended them. */
export type LaidOutSheet = {
  headerRow: number;
  headings: string[];
  columns: RehearsedColumn[];
  rows: TableRow[];
  /** Rows taken for titles between the queens. */
  titles: TableRow[];
  /** Rows the person left out. */
  leftOut: number;
};

const EXAMPLES = 3;

function examplesOf(rows: readonly TableRow[], column: number): string[] {
  const found = new Set<string>();
  for (const { cells } of rows) {
    const text = cellText(cells[column]).trim();
    if (text !== '') found.add(text);
    if (found.size === EXAMPLES) break;
  }
  return [...found];
}

function mended(row: TableRow, set: Readonly<Record<string, string>> | undefined): TableRow {
  if (set === undefined) return row;
  const cells: Cell[] = [...row.cells];
  for (const [column, text] of Object.entries(set)) {
    const at = Number(column);
    while (cells.length < at) cells.push('');
    cells[at] = text;
  }
  return { number: row.number, cells };
}

/** What a heading meant last time is a better guess than what it sounds like. */
function recalled(
  headings: readonly string[],
  guessed: readonly ColumnMeaning[],
  remembered: Readonly<Record<string, ColumnMeaning>>,
): ColumnMeaning[] {
  const known = headings.map((heading) => (heading === '' ? undefined : remembered[heading]));
  const taken = new Set(known.flatMap((column) => (column === undefined ? [] : [column.meaning])));
  return guessed.map((guess, i) => {
    const gives = known[i] === undefined && oneColumnOnly.has(guess.meaning) && taken.has(guess.meaning);
    return known[i] ?? (gives ? { meaning: 'note', split: null } : guess);
  });
}

/** The meanings as said, each but notes given once: who comes first in the sheet keeps it. */
function settled(guessed: readonly ColumnMeaning[], said: ImportChoices['columns'] = {}): ColumnMeaning[] {
  const saidMeanings = new Set(Object.values(said).map(({ meaning }) => meaning));
  const given = new Set<Meaning>();
  return guessed.map((guess, column) => {
    const wanted = said[column];
    // A guess gives way to what somebody said of another column.
    const meaning =
      wanted?.meaning ?? (saidMeanings.has(guess.meaning) && oneColumnOnly.has(guess.meaning) ? 'note' : guess.meaning);
    const taken = oneColumnOnly.has(meaning) && given.has(meaning);
    given.add(meaning);
    return { meaning: taken ? 'note' : meaning, split: wanted?.split ?? guess.split };
  });
}

/** Texts that name queens elsewhere in the sheet: a row that holds nothing but one of them is a founder, not a title. */
function namedElsewhere(rows: readonly TableRow[], meanings: readonly ColumnMeaning[]): ReadonlySet<string> {
  const columns = meanings.flatMap(({ meaning }, c) => (meaning === 'dam' || meaning === 'drones' ? [c] : []));
  return new Set(rows.flatMap(({ cells }) => columns.map((c) => cellText(cells[c]).trim())));
}

/** A line of words between the queens ("Birch queens"): one cell, no figure in it, nobody's name. */
function isTitle({ cells }: TableRow, named: ReadonlySet<string>): boolean {
  const filled = cells.map((cell) => cellText(cell).trim()).filter((text) => text !== '');
  const [text = ''] = filled;
  return filled.length === 1 && !/\d/.test(text) && !named.has(text) && (cells.length === 1 || text.includes(' '));
}

/** Finds the header, gives every column its meaning, puts the person's mendings into the rows. */
export function layOut(
  { rows }: RawTable,
  { headerRow, columns, fixes = {} }: ImportChoices,
  { today, remembered = {} }: { today: Day; remembered?: Readonly<Record<string, ColumnMeaning>> | undefined },
): LaidOutSheet {
  const guessedIndex = guessHeader(rows);
  const header = headerRow === undefined ? rows[guessedIndex] : rows.find(({ number }) => number === headerRow);
  const from = header === undefined ? 0 : rows.indexOf(header) + 1;
  const below = rows.slice(from);
  const width = Math.max(header?.cells.length ?? 0, ...below.slice(0, 5_000).map(({ cells }) => cells.length));
  const headings = Array.from({ length: width }, (_, c) => cellText(header?.cells[c]).trim());
  const meanings = settled(recalled(headings, guessColumns(headings, below, today), remembered), columns);
  const named = namedElsewhere(below, meanings);
  const title = (row: TableRow) =>
    width > 1 && isTitle(row, named) && fixes[row.number]?.accept?.includes('row-title') !== true;
  const titles = below.filter(title);
  const aside = new Set(titles);
  const kept = below.filter((row) => !aside.has(row) && fixes[row.number]?.out !== true);
  return {
    headerRow: header?.number ?? 0,
    headings,
    columns: meanings.map((meaning, index) => ({
      ...meaning,
      index,
      heading: headings[index] ?? '',
      guessed: columns?.[index] === undefined,
      examples: examplesOf(below, index),
    })),
    rows: kept.map((row) => mended(row, fixes[row.number]?.set)),
    titles,
    leftOut: below.filter(({ number }) => fixes[number]?.out === true).length,
  };
}
