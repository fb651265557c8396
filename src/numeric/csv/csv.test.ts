import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { encodeUtf8 } from '#units/utf8.ts';
import {
  type Csv,
  type CsvProblem,
  eachLooseRow,
  eachRow,
  fieldEmpty,
  fieldNumber,
  openCsv,
  readRows,
  separatorIn,
} from './csv.ts';

const open = (text: string): Csv => {
  const csv = openCsv(encodeUtf8(text));
  if ('code' in csv) throw new Error(`${csv.code} ${csv.found}`);
  return csv;
};
const problemOf = (text: string): CsvProblem => {
  const csv = openCsv(encodeUtf8(text));
  if (!('code' in csv)) throw new Error('opened');
  return csv;
};
const texts = (text: string) => readRows(open(text)).rows.map((row) => row.texts);
const problems = (text: string) => readRows(open(text)).problems.map((p) => [p.code, p.row, p.found, p.expected]);

describe('separator and header', () => {
  test('the header line alone decides the separator', () => {
    expect(open('a;b\n1,2;3,4\n').columns).toEqual(['a', 'b']);
    expect(open('a\tb,c\td\n').columns).toEqual(['a', 'b,c', 'd']);
    expect(open('"a;x;y",b,c,d\n').columns).toEqual(['a;x;y', 'b', 'c', 'd']);
    expect(open('alone').columns).toEqual(['alone']);
  });

  test('a byte-order mark, blank lines and any line end are passed over', () => {
    expect(texts('\uFEFFa,b\r\n1,2\r\n\r\n3,4\r\n\r\n')).toEqual([
      ['1', '2'],
      ['3', '4'],
    ]);
    expect(texts('a,b\r1,2\r3,4')).toEqual([
      ['1', '2'],
      ['3', '4'],
    ]);
    expect(readRows(open('\n\na,b\n\n1,2\n')).rows[0]?.number).toBe(5);
  });

  test('an empty file, a nameless and a repeated column are named', () => {
    expect(problemOf('').code).toBe('empty');
    expect(problemOf('\n \n').code).toBe('empty');
    expect(problemOf('a,,c\n')).toMatchObject({ code: 'column-nameless', row: 1, column: '2' });
    expect(problemOf('a,b,a\n')).toMatchObject({ code: 'column-twice', column: 'a' });
  });

  test('bytes that are not UTF-8 are named with their row', () => {
    const bytes = new Uint8Array([0x61, 0x0a, 0x62, 0x0a, 0xe9, 0x0a]);
    expect(openCsv(bytes)).toMatchObject({ code: 'not-utf8', row: 3 });
  });
});

describe('rows', () => {
  test('quoted fields keep separators, line ends and doubled marks', () => {
    expect(texts('a,b\n"x,1\n2","say ""hi"""\n')).toEqual([['x,1\n2', 'say "hi"']]);
    expect(texts('a;b\n"M:0.6;N:0.4";2\n')).toEqual([['M:0.6;N:0.4', '2']]);
  });

  test('a row of another length is named and left out', () => {
    expect(problems('a,b\n1\n2,3\n4,5,6\n')).toEqual([
      ['row-length', 2, '1', '2'],
      ['row-length', 4, '3', '2'],
    ]);
    expect(texts('a,b\n1\n2,3\n')).toEqual([['2', '3']]);
  });

  test('marks that do not close, and text after a closing mark, are named', () => {
    expect(problems('a,b\n1,"2\n')[0]?.slice(0, 2)).toEqual(['open-quote', 2]);
    expect(problems('a,b\n"1"x,2\n3,4\n')[0]?.slice(0, 2)).toEqual(['text-after-quote', 2]);
    expect(texts('a,b\n"1" ,2\n')).toEqual([['1', '2']]);
  });

  test('reading stops after the most problems asked for', () => {
    const csv = open(`a,b\n${'1\n'.repeat(50)}`);
    expect(eachRow(csv, () => undefined, 7)).toHaveLength(7);
  });
});

describe('numbers', () => {
  const numbers = (text: string) => {
    const csv = open(text);
    const out: (number | null)[] = [];
    eachRow(csv, (row) => out.push(fieldNumber(csv, row, 0)));
    return out;
  };
  test('a decimal comma counts where the separator is not a comma', () => {
    expect(numbers('x;y\n2,5;\n-0,25;\n')).toEqual([2.5, -0.25]);
    expect(numbers('x,y\n"2,5",\n')).toEqual([Number.NaN]);
  });
  test('empty is null, a word is NaN', () => {
    expect(numbers('x,y\n,1\n abc,1\n1 000,1\n0x1,1\n-,1\n.,1\nInfinity,1\n1e999,1\n')).toEqual([
      null,
      ...Array(7).fill(Number.NaN),
    ]);
  });
  test('every double written by String comes back bit for bit', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const [read] = numbers(`x,y\n${String(value)},1\n`);
        expect(read === value).toBe(true);
      }),
      { numRuns: 2000, seed: 7 },
    );
  });
  test('white space alone is an empty field', () => {
    const csv = open('x,y\n \u00a0,1\n');
    eachRow(csv, (row) => expect(fieldEmpty(csv, row, 0)).toBe(true));
  });
});

// Oracle: papaparse 5.7.1, an independent reader of RFC 4180.
test('reads whatever papaparse reads, and reads back what papaparse writes', () => {
  const cell = fc.string({
    unit: fc.constantFrom('a', 'é', '🐝', '"', ',', ';', '\n', '\r\n', ' x', '1.5'),
    maxLength: 5,
  });
  const table = fc
    .integer({ min: 2, max: 5 })
    .chain((width) => fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }));
  fc.assert(
    fc.property(table, fc.constantFrom(',', ';', '\t'), fc.boolean(), (rows, delimiter, quotes) => {
      const header = (rows[0] ?? []).map((_, c) => `c${c}`);
      const text = Papa.unparse([header, ...rows], { delimiter, quotes, newline: '\n' });
      const parsed = Papa.parse<string[]>(text, { delimiter, newline: '\n' });
      const expected = parsed.data.slice(1).map((row) => row.map((field) => field.trim()));
      expect(texts(text)).toEqual(expected);
    }),
    { numRuns: 1500, seed: 11 },
  );
});

describe('a loose reading', () => {
  const loosely = (text: string, mostColumns = 5) => {
    const rows: [number, string[], number][] = [];
    eachLooseRow(encodeUtf8(text), { separator: 0x3b, mostColumns }, (row, fields) => {
      rows.push([row.number, row.texts, fields]);
      return rows.length < 9;
    });
    return rows;
  };

  test('visits every line that holds anything, whatever its number of fields', () => {
    expect(loosely('title\n\na;b;c\n1;2\n1;2;3;4\n')).toEqual([
      [1, ['title'], 1],
      [3, ['a', 'b', 'c'], 3],
      [4, ['1', '2'], 2],
      [5, ['1', '2', '3', '4'], 4],
    ]);
    expect(loosely('\uFEFFa;"b;""c"""\r\n')).toEqual([[1, ['a', 'b;"c"'], 2]]);
  });

  test('keeps no more fields than asked for, but counts them; stops when told to', () => {
    expect(loosely('1;2;3;4;5;6;7')).toEqual([[1, ['1', '2', '3', '4', '5'], 7]]);
    expect(loosely('x\n'.repeat(20))).toHaveLength(9);
  });

  test('names quotation marks that do not close', () => {
    const problems: (string | null)[] = [];
    eachLooseRow(
      encodeUtf8('a;"b\nc;d\n'),
      { separator: 0x3b, mostColumns: 5 },
      (row) => problems.push(row.problem) > 0,
    );
    expect(problems).toEqual(['open-quote']);
  });

  test('finds the separator of a line, or that it has none', () => {
    const bytes = encodeUtf8('title\na;b,c;d');
    expect([separatorIn(bytes, 0), separatorIn(bytes, 6)]).toEqual([null, 0x3b]);
  });
});
