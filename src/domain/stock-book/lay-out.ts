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
  /** Rows with one cell only: titles between the queens. */
  titles: number;
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

const isTitle = ({ cells }: TableRow): boolean => cells.filter((cell) => cellText(cell).trim() !== '').length === 1;

/** Finds the header, gives every column its meaning, puts the person's mendings into the rows. */
export function layOut(
  { rows }: RawTable,
  { headerRow, columns, fixes = {} }: ImportChoices,
  today: Day,
): LaidOutSheet {
  const guessedIndex = guessHeader(rows);
  const header = headerRow === undefined ? rows[guessedIndex] : rows.find(({ number }) => number === headerRow);
  const from = header === undefined ? 0 : rows.indexOf(header) + 1;
  const below = rows.slice(from);
  const width = Math.max(header?.cells.length ?? 0, ...below.slice(0, 5_000).map(({ cells }) => cells.length));
  const headings = Array.from({ length: width }, (_, c) => cellText(header?.cells[c]).trim());
  const meanings = settled(guessColumns(headings, below, today), columns);
  const wide = width > 1;
  const kept = below.filter((row) => !(wide && isTitle(row)) && fixes[row.number]?.out !== true);
  const titles = wide ? below.filter(isTitle).length : 0;
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
