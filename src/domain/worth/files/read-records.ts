/** RECORDS.csv: `queen,yard,year,` then one column a trait; one row a queen and year; an empty trait was not recorded. */
import { type Csv, type CsvRow, eachRow, fieldNumber, fieldText, openCsv } from '#numeric/csv/csv.ts';
import {
  filledInts,
  filledNumbers,
  type Growing,
  growingInts,
  growingNumbers,
  pushInt,
  pushNumber,
} from '#numeric/csv/growing.ts';
import { yearOfDayNumber } from '../../pedigree/day-number.ts';
import { csvFileProblem, type FileProblem, fileProblem } from '../../pedigree/files/file-problem.ts';
import type { NamedBytes } from '../../pedigree/files/read-pedigree.ts';
import { NONE, type Stock } from '../../pedigree/stock.ts';
import { effectsOf, type Model } from '../model.ts';
import { type Records, TOO_LARGE } from '../records.ts';

/** A record of a year before its queen emerged. */
export type EarlyRecord = { queen: string; year: number };

/** The records with those of a year before their queen emerged, or everything that is wrong with the file. */
export type ReadRecords =
  | { records: Records; early: readonly EarlyRecord[]; problems: [] }
  | { records: null; problems: FileProblem[] };

const MOST_PROBLEMS = 1000;

type Reading = {
  csv: Csv;
  file: string;
  stock: Stock;
  queen: number;
  year: number;
  traits: number[];
  effects: number[][];
  queens: Growing<Int32Array>;
  values: Growing<Float64Array>;
  levels: Growing<Int32Array>[];
  names: Map<string, number>[];
  /** Year of the last row of each queen by row index, to find a queen and year that stand twice. */
  seen: Map<number, string[]>;
  early: EarlyRecord[];
  problems: FileProblem[];
};

/**
 * Reads the records a model asks for. Rows without any of its traits are passed over.
 * Values stay in the unit they are written in; an empty field is a trait not recorded. Time: one pass over the bytes.
 * @example const { stock } = readStock(workedFiles.queens, workedFiles.semen);
 * readRecords(workedFiles.records, stock, readModel(workedFiles.model).model).records // { count: 6, queen: [0, 1, 3, 4, 5, 6] }
 */
export function readRecords(file: NamedBytes, stock: Stock, model: Model): ReadRecords {
  const csv = openCsv(file.bytes);
  if ('code' in csv) return { records: null, problems: [csvFileProblem(file.name, csv)] };
  const problems = missingColumns(file.name, csv, model);
  if (problems.length > 0) return { records: null, problems };
  const effects = effectsOf(model);
  const column = (name: string) => csv.columns.indexOf(name);
  const reading: Reading = {
    csv,
    file: file.name,
    stock,
    queen: column('queen'),
    year: column('year'),
    traits: model.traits.map(column),
    effects: effects.map((entry) => entry.map(column)),
    queens: growingInts(1024),
    values: growingNumbers(1024),
    levels: effects.map(() => growingInts(1024)),
    names: effects.map(() => new Map()),
    seen: new Map(),
    early: [],
    problems: [],
  };
  const malformed = eachRow(csv, (row) => readRow(reading, row), MOST_PROBLEMS);
  const all = [...malformed.map((problem) => csvFileProblem(file.name, problem)), ...reading.problems];
  if (all.length === 0) all.push(...withoutValues(reading, model));
  if (all.length > 0)
    return { records: null, problems: all.sort((a, b) => (a.row ?? 0) - (b.row ?? 0)).slice(0, MOST_PROBLEMS) };
  return { records: recordsOf(reading), early: reading.early, problems: [] };
}

function missingColumns(file: string, csv: Csv, model: Model): FileProblem[] {
  const found = `columns ${csv.columns.join(', ')}`;
  const needed = ['queen', ...effectsOf(model).flat(), ...model.traits];
  return [...new Set(needed)]
    .filter((name) => !csv.columns.includes(name))
    .map((column) => fileProblem(file, 'column-missing', found, { row: csv.headerRow, column }));
}

const say = (
  reading: Reading,
  row: CsvRow,
  column: number,
  problem: { code: string; found: string; expected: string; remedy: string },
): void => {
  if (reading.problems.length >= MOST_PROBLEMS) return;
  reading.problems.push({ file: reading.file, row: row.number, column: reading.csv.columns[column] ?? '', ...problem });
};

function readRow(reading: Reading, row: CsvRow): void {
  const { csv, traits } = reading;
  const values = traits.map((column) => {
    const value = fieldNumber(csv, row, column);
    if (value !== null && !(Math.abs(value) < TOO_LARGE)) {
      const found = `"${fieldText(csv, row, column)}"`;
      say(reading, row, column, {
        code: 'value-not-a-number',
        found,
        expected: Number.isNaN(value) ? 'a number or nothing' : 'a number a colony can have, below 1e15',
        remedy: 'correct it or leave it empty',
      });
    }
    return value ?? Number.NaN;
  });
  const queen = readQueen(reading, row);
  if (queen === NONE || values.every(Number.isNaN)) return;
  const levels = reading.effects.map((columns) => readLevel(reading, row, columns));
  if (levels.includes(null)) return;
  pushInt(reading.queens, queen);
  for (const value of values) pushNumber(reading.values, value);
  for (const [k, level] of levels.entries())
    pushInt(
      reading.levels[k] as Growing<Int32Array>,
      levelNumber(reading.names[k] as Map<string, number>, level as string),
    );
}

function readQueen(reading: Reading, row: CsvRow): number {
  const { csv, stock } = reading;
  const code = fieldText(csv, row, reading.queen);
  const queen = code === '' ? NONE : stock.names.queenIndex(code);
  const wrong = (problem: { code: string; expected: string; remedy: string }) =>
    say(reading, row, reading.queen, { found: code === '' ? 'nothing' : `"${code}"`, ...problem });
  if (queen === NONE) {
    wrong({
      code: 'record-queen-unknown',
      expected: 'a queen with a row in the queens file',
      remedy: 'add a row for her or correct the code',
    });
    return NONE;
  }
  if ((stock.columns.sisters[queen] as number) > 1) {
    wrong({
      code: 'record-of-group',
      expected: 'one queen, not a group of sisters',
      remedy: 'give the sister a row of her own',
    });
  }
  const year = reading.year < 0 ? '' : fieldText(csv, row, reading.year);
  noteEarly(reading, queen, year);
  const years = reading.seen.get(queen);
  if (years === undefined) reading.seen.set(queen, [year]);
  else if (!years.includes(year)) years.push(year);
  else
    wrong({
      code: 'record-twice',
      expected: 'one row a queen and year',
      remedy: 'join the two rows or correct the year',
    });
  return queen;
}

/** A year that is one, before the year the queen emerged. */
function noteEarly({ stock, early }: Reading, queen: number, text: string): void {
  const born = yearOfDayNumber(stock.columns.born[queen] as number);
  if (born === null || !/^\d{4}$/.test(text) || Number(text) >= born) return;
  early.push({ queen: stock.names.queenName(queen), year: Number(text) });
}

/** `value-of-a:value-of-b`, or null when one of them is empty. */
function readLevel(reading: Reading, row: CsvRow, columns: readonly number[]): string | null {
  const texts = columns.map((column) => {
    const text = fieldText(reading.csv, row, column);
    if (text === '')
      say(reading, row, column, {
        code: 'level-missing',
        found: 'nothing',
        expected: 'a value, because the model has it as an effect',
        remedy: 'fill it in or take the row out',
      });
    return text;
  });
  return texts.includes('') ? null : texts.join(':');
}

function levelNumber(names: Map<string, number>, level: string): number {
  const known = names.get(level);
  if (known !== undefined) return known;
  names.set(level, names.size);
  return names.size - 1;
}

/** No rows at all, or a trait nobody recorded. */
function withoutValues(reading: Reading, model: Model): FileProblem[] {
  if (reading.queens.size === 0) return [fileProblem(reading.file, 'no-rows', 'no record of the traits of the model')];
  const t = model.traits.length;
  const values = filledNumbers(reading.values);
  return model.traits.flatMap((name, k): FileProblem[] => {
    for (let at = k; at < values.length; at += t) if (!Number.isNaN(values[at] as number)) return [];
    const words = {
      found: 'no value at all',
      expected: 'at least one record of every trait',
      remedy: 'take the trait out of the model',
    };
    return [{ file: reading.file, column: name, code: 'trait-without-records', ...words }];
  });
}

function recordsOf(reading: Reading): Records {
  return {
    count: reading.queens.size,
    queen: filledInts(reading.queens),
    values: filledNumbers(reading.values),
    factors: reading.levels.map((level, k) => ({
      level: filledInts(level),
      names: [...(reading.names[k] as Map<string, number>).keys()],
    })),
  };
}
