/**
 * What is wrong with a file: where, what was found, what was expected, what to do. The wording of each kind stands in one table here.
 */
import type { CsvProblem } from '#numeric/csv/csv.ts';

/** One thing wrong with a file, in words for the person who wrote it. */
export type FileProblem = {
  file: string;
  /** As a text editor or spreadsheet counts it: the header is row 1. */
  row?: number;
  column?: string;
  /** One of the codes of this file, of a malformed table, or of the domain that found it. */
  code: string;
  found: string;
  expected: string;
  remedy: string;
};

type Words = { expected: string; remedy: string };

const WORDS = {
  'column-missing': {
    expected: 'a header with this column',
    remedy: 'add the column, or check the separator of the header line',
  },
  'no-rows': { expected: 'at least one row after the header', remedy: 'check that this is the file you meant' },
  'code-missing': { expected: 'a code', remedy: 'give the row a code or take the row out' },
  'code-twice': { expected: 'each code once', remedy: 'take out one of the two rows or correct its code' },
  'code-reserved': {
    expected: 'a code other than open',
    remedy: 'open stands for unrelated drones; give her another code',
  },
  'code-both': { expected: 'a queen or a batch, not both', remedy: 'rename the batch or the queen' },
  'dam-unknown': { expected: 'a dam with a row of her own', remedy: 'add a row for the dam or correct the code' },
  'drone-mother-unknown': {
    expected: 'a drone mother with a row of her own, or open',
    remedy: 'add a row for her in the queens file or correct the code',
  },
  'batch-unknown': {
    expected: 'a batch of the semen file',
    remedy: 'add its rows to the semen file or correct the code',
  },
  'source-unknown': {
    expected: 'a drone mother, another batch or open',
    remedy: 'add a row for it or correct the code',
  },
  'mating-twice': {
    expected: 'mated_to or semen, not both',
    remedy: 'for a mixture, make it a batch in the semen file',
  },
  'mating-mixed': {
    expected: 'either parts M:0.6;N:0.4 or alternatives R7:0.7|R9:0.3',
    remedy: 'write one or the other',
  },
  'mating-part-empty': { expected: 'a code in every part', remedy: 'take out the extra ; or |' },
  'share-not-a-number': { expected: 'a share above 0, such as 0.6', remedy: 'correct the share' },
  'shares-not-one': { expected: 'shares that add up to 1 (± 0.01)', remedy: 'correct the shares' },
  'nothing-left': { expected: 'something left for the parts without a share', remedy: 'correct the shares' },
  'drones-not-a-number': {
    expected: 'a number of drones of 1 or more',
    remedy: 'correct the number or leave it empty',
  },
  'source-drones-not-a-number': {
    expected: 'a number of drones above 0',
    remedy: 'correct the number or leave it empty',
  },
  'sisters-not-whole': { expected: 'a whole number of 1 or more', remedy: 'correct the number or leave it empty' },
  'day-not-a-day': { expected: 'a day such as 2027-06-12', remedy: 'correct the day or leave it empty' },
  loop: {
    expected: 'a queen who does not descend from herself',
    remedy: 'correct a dam, a drone mother or a batch on the way',
  },
  'born-before-dam': {
    expected: 'a day not before her dam was born',
    remedy: 'correct one of the two days or the dam',
  },
  'born-before-drone-mother': {
    expected: 'a day not before the mother of her father was born',
    remedy: 'correct one of the two days or the drone mother',
  },
  'born-before-forebear': {
    expected: 'a day not before any of her forebears was born',
    remedy: 'correct one of the two days, or a dam, drone mother or batch between them',
  },
  'dam-is-group': {
    expected: 'one queen as dam, not a group of sisters',
    remedy: 'give the sister who was grafted from a row of her own',
  },
} as const satisfies Record<string, Words>;

const CSV_WORDS: Record<CsvProblem['code'], Words> = {
  empty: { expected: 'a header line', remedy: 'check that this is the file you meant' },
  'not-utf8': { expected: 'UTF-8 text', remedy: 'save the file as CSV UTF-8' },
  'row-length': {
    expected: 'as many fields as the header',
    remedy: 'put fields that hold the separator in quotation marks',
  },
  'open-quote': { expected: 'a closing quotation mark', remedy: 'close the quotation mark or double the ones inside' },
  'text-after-quote': {
    expected: 'a separator after the closing quotation mark',
    remedy: 'double the quotation marks inside the field',
  },
  'column-twice': { expected: 'each column name once', remedy: 'rename or take out one of the two columns' },
  'column-nameless': { expected: 'a name for every column', remedy: 'name the column or take it out' },
};

type Place = { row?: number | undefined; column?: string | undefined };

/**
 * A problem of a file with its words; `found` is told as it is, quotation marks included.
 * @example fileProblem('QUEENS.csv', 'dam-unknown', '"X"', { row: 3, column: 'dam' }).expected // 'a dam with a row of her own'
 */
export function fileProblem(file: string, code: keyof typeof WORDS, found: string, place: Place = {}): FileProblem {
  const problem: FileProblem = { file, code, found, ...WORDS[code] };
  if (place.row !== undefined) problem.row = place.row;
  if (place.column !== undefined) problem.column = place.column;
  return problem;
}

/**
 * A problem with the form of the table, in the same words.
 * @example const problem = { code: 'row-length', row: 3, column: null, found: '1', expected: '2' };
 * csvFileProblem('QUEENS.csv', problem) // { row: 3, found: '1 fields', expected: '2 fields, as in the header' }
 */
export function csvFileProblem(file: string, problem: CsvProblem): FileProblem {
  const words = CSV_WORDS[problem.code];
  const counts = problem.code === 'row-length';
  return {
    file,
    row: problem.row,
    ...(problem.column === null ? {} : { column: problem.column }),
    code: problem.code,
    found: counts ? `${problem.found} fields` : problem.found,
    expected: counts ? `${problem.expected} fields, as in the header` : words.expected,
    remedy: words.remedy,
  };
}
