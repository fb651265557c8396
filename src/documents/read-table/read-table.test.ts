import { zipSync } from 'fflate';
import { writeXlsx } from 'hucre/xlsx';
import { describe, expect, test } from 'vitest';
import { type RawTable, type TableProblem, tableLimits } from '#domain/stock-book/table.ts';
import { readTable, type TableOptions } from './read-table.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, big: boolean) =>
  Uint8Array.from(
    [...text].flatMap((letter) => {
      const code = letter.charCodeAt(0);
      return big ? [code >> 8, code & 255] : [code & 255, code >> 8];
    }),
  );
async function read(bytes: Uint8Array, options: TableOptions = {}): Promise<RawTable> {
  const table = await readTable(bytes, options);
  if ('code' in table) throw new Error(JSON.stringify(table));
  return table;
}
async function problemOf(bytes: Uint8Array, options: TableOptions = {}): Promise<TableProblem> {
  const table = await readTable(bytes, options);
  if (!('code' in table)) throw new Error('it was read');
  return table;
}
const rowsOf = async (bytes: Uint8Array, options: TableOptions = {}) =>
  (await read(bytes, options)).rows.map(({ cells }) => cells);

describe('separators and lines', () => {
  test('comma, semicolon and tab are told from the first line that holds one; a title above it is no matter', async () => {
    for (const mark of [',', ';', '\t']) {
      const { readAs, rows } = await read(utf8(`My queens\n\ncode${mark}dam\n27-1${mark}25-1\n`));
      expect(readAs.separator).toBe(mark);
      expect(rows).toEqual([
        { number: 1, cells: ['My queens'] },
        { number: 3, cells: ['code', 'dam'] },
        { number: 4, cells: ['27-1', '25-1'] },
      ]);
    }
  });

  test('a separator the person names is taken', async () => {
    expect(await rowsOf(utf8('a;b|c\n1;2|3'), { separator: '|' })).toEqual([
      ['a;b', 'c'],
      ['1;2', '3'],
    ]);
  });

  test('one apostrophe before = + - @ is taken off again', async () => {
    expect(await rowsOf(utf8("a,b\n'=1+1,'hello\n'-5,'+4"))).toEqual([
      ['a', 'b'],
      ['=1+1', "'hello"],
      ['-5', '+4'],
    ]);
  });
});

describe('encodings', () => {
  const text = 'Königin;Mutter\nżółta;ñu\n';
  const rows = [
    ['Königin', 'Mutter'],
    ['żółta', 'ñu'],
  ];
  test('UTF-8 and UTF-16 are recognised, with a mark and without', async () => {
    for (const bytes of [
      utf8(text),
      utf8(`\uFEFF${text}`),
      utf16(`\uFEFF${text}`, false),
      utf16(`\uFEFF${text}`, true),
      utf16(text, false),
      utf16(text, true),
    ])
      expect(await rowsOf(bytes)).toEqual(rows);
  });

  test('Windows-1252 is recognised, and another one is taken when it is named', async () => {
    const bytes = Uint8Array.from([...utf8('K'), 0xf6, ...utf8('nigin;x\n1;2')]);
    expect((await read(bytes)).readAs.encoding).toBe('windows-1252');
    expect(await rowsOf(bytes)).toEqual([
      ['König' + 'in', 'x'],
      ['1', '2'],
    ]);
    const polish = Uint8Array.from([0xbf, 0xf3, 0xb3, 0x3b, 0x78]);
    expect(await rowsOf(polish, { encoding: 'windows-1250' })).toEqual([['żół', 'x']]);
  });

  test('two encodings in one file are named with the row', async () => {
    const mixed = Uint8Array.from([...utf8('a;b\nKönigin;größer\n'), 0xf6, ...utf8(';x\n')]);
    expect(await problemOf(mixed)).toMatchObject({ code: 'encoding-mixed', row: 3 });
  });

  test('what no text holds is no table', async () => {
    expect(await problemOf(Uint8Array.from([0, 1, 2, 3, 4, 5, 6, 7, 0xff]))).toMatchObject({ code: 'not-a-table' });
    expect(await problemOf(Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1]))).toMatchObject({ code: 'old-workbook' });
    expect(await problemOf(new Uint8Array(0))).toMatchObject({ code: 'table-empty' });
    expect(await problemOf(utf8(' \n;;;\n\n'))).toMatchObject({ code: 'table-empty' });
  });
});

describe('malformed and too large', () => {
  test('a quotation mark that never closes is named with its row', async () => {
    expect(await problemOf(utf8('a;b\n1;2\n3;"x\n4;5\n'))).toMatchObject({ code: 'open-quote', row: 3 });
  });

  test('too many columns, a cell too long, too many bytes', async () => {
    expect(await problemOf(utf8(`a;b\n${'x;'.repeat(600)}`))).toMatchObject({ code: 'too-many-columns', row: 2 });
    expect(await problemOf(utf8(`a;b\n1;${'x'.repeat(40_000)}`))).toMatchObject({ code: 'cell-too-long', row: 2 });
    const large = { length: tableLimits.bytes + 1 } as unknown as Uint8Array;
    expect(await problemOf(large)).toMatchObject({ code: 'table-too-large' });
  });

  test('a million rows and no more', async () => {
    const bytes = new Uint8Array(2 * (tableLimits.rows + 2)).fill(0x0a);
    for (let at = 0; at < bytes.length; at += 2) bytes[at] = 0x78;
    expect(await problemOf(bytes)).toMatchObject({ code: 'too-many-rows', row: tableLimits.rows + 1 });
  });
});

describe('workbooks', () => {
  const workbook = () =>
    writeXlsx({
      sheets: [
        { name: 'Empty', rows: [] },
        {
          name: 'Stock',
          rows: [
            ['code', 'emerged', 'drones'],
            ['26-014', new Date(Date.UTC(2026, 4, 3)), 8.5],
            ['00123', 45_812, '=HYPERLINK("x")'],
          ],
        },
        { name: 'Other', rows: [['a', 'b']] },
      ],
    });

  test('days are calendar days, numbers numbers, text stays text', async () => {
    const { rows, readAs } = await read(await workbook());
    expect(readAs).toMatchObject({ form: 'workbook', sheets: ['Empty', 'Stock', 'Other'], sheet: 'Stock' });
    expect(rows.map(({ cells }) => cells)).toEqual([
      ['code', 'emerged', 'drones'],
      ['26-014', { day: '2026-05-03' }, 8.5],
      ['00123', 45_812, '=HYPERLINK("x")'],
    ]);
  });

  test('a sheet is chosen by its name', async () => {
    expect((await read(await workbook(), { sheet: 'Other' })).rows).toEqual([{ number: 1, cells: ['a', 'b'] }]);
    expect(await problemOf(await workbook(), { sheet: 'Nope' })).toMatchObject({ code: 'no-such-sheet' });
  });

  test('a bomb, names that leave the folder and broken files are refused before anything is unpacked', async () => {
    const bomb = zipSync({ 'xl/worksheets/sheet1.xml': [new Uint8Array(201_000_000), { level: 9 }] });
    expect(await problemOf(bomb)).toMatchObject({
      code: 'workbook-unsafe',
      values: { found: expect.stringContaining('too-large') },
    });
    expect(await problemOf(zipSync({ '../../evil.xml': utf8('x') }))).toMatchObject({ code: 'workbook-unsafe' });
    expect(await problemOf((await workbook()).subarray(0, 200))).toMatchObject({ code: 'workbook-broken' });
    expect(await problemOf(zipSync({ 'a.txt': utf8('no workbook at all') }))).toMatchObject({
      code: 'workbook-broken',
    });
  });
});
