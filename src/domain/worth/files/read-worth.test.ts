import { describe, expect, test } from 'vitest';
import { encodeUtf8 } from '#units/utf8.ts';
import { readPedigree } from '../../pedigree/files/read-pedigree.ts';
import type { Model } from '../model.ts';
import { readModel } from './read-model.ts';
import { readRecords } from './read-records.ts';

const { pedigree } = readPedigree({ name: 'q', bytes: encodeUtf8('queen,dam,sisters\nA,,\nB,A,\nG,A,3\n') });
if (pedigree === null) throw new Error('stock');
const model: Model = {
  traits: ['honey', 'calm'],
  fixed: [['yard', 'year'], ['tester']],
  G: new Float64Array(16),
  R: new Float64Array(4),
};
const records = (text: string) => readRecords({ name: 'r', bytes: encodeUtf8(text) }, pedigree.stock, model);
const HEAD = 'queen,yard,year,tester,honey,calm\n';

describe('records', () => {
  test('levels in the order they occur, missing values, rows without any trait passed over', () => {
    const read = records(`${HEAD}B,x,2025,T,40,3\nA,y,2025,S,,2.5\nA,y,2024,S,,\nB,y,2026,T,12.5,\n`);
    expect(read.records).toEqual({
      count: 3,
      queen: Int32Array.of(1, 0, 1),
      values: Float64Array.of(40, 3, Number.NaN, 2.5, 12.5, Number.NaN),
      factors: [
        { level: Int32Array.of(0, 1, 2), names: ['x:2025', 'y:2025', 'y:2026'] },
        { level: Int32Array.of(0, 1, 0), names: ['T', 'S'] },
      ],
    });
  });
  test.each([
    [
      'queen,yard,year,honey\nA,x,1,2\n',
      [
        ['column-missing', 1, 'tester'],
        ['column-missing', 1, 'calm'],
      ],
    ],
    [
      `${HEAD}X,x,1,T,1,1\n,x,1,T,1,1\n`,
      [
        ['record-queen-unknown', 2, 'queen'],
        ['record-queen-unknown', 3, 'queen'],
      ],
    ],
    [`${HEAD}G,x,1,T,1,1\n`, [['record-of-group', 2, 'queen']]],
    [`${HEAD}A,x,1,T,1,1\nA,y,1,T,1,1\n`, [['record-twice', 3, 'queen']]],
    [`${HEAD}A,x,1,T,much,1\n`, [['value-not-a-number', 2, 'honey']]],
    [
      `${HEAD}A,,1,,5,1\n`,
      [
        ['level-missing', 2, 'yard'],
        ['level-missing', 2, 'tester'],
      ],
    ],
    [`${HEAD}A,x,1,T,5,\n`, [['trait-without-records', undefined, 'calm']]],
    [`${HEAD}A,x,1,T,,\n`, [['no-rows', undefined, undefined]]],
    ['', [['empty', 1, undefined]]],
  ])('%j', (text, expected) => {
    expect(records(text).problems.map((p) => [p.code, p.row, p.column])).toEqual(expected);
  });
});

describe('model', () => {
  const problems = (text: string) =>
    readModel({ name: 'm', bytes: encodeUtf8(text) }).problems.map((p) => [p.code, p.column, p.found]);
  test('a whole one', () => {
    const read = readModel({
      name: 'm',
      bytes: encodeUtf8(
        '\uFEFF{"traits":["honey"],"fixed":["yard:year","tester"],"G":[[6,-2],[-2,4]],"R":[[10]],"note":1}',
      ),
    });
    expect(read.model).toEqual({
      traits: ['honey'],
      fixed: [['yard', 'year'], ['tester']],
      G: Float64Array.of(6, -2, -2, 4),
      R: Float64Array.of(10),
    });
  });
  const given = (over: object) =>
    JSON.stringify({
      traits: ['a'],
      fixed: [],
      G: [
        [6, -2],
        [-2, 4],
      ],
      R: [[10]],
      ...over,
    });
  test.each([
    ['{', [['model-not-json', undefined, expect.stringContaining('something that is not JSON (')]]],
    ['[]', [['model-not-json', undefined, 'no JSON object']]],
    [given({ traits: [] }), [['model-traits', 'traits', '[]']]],
    [
      given({ traits: ['a', 'a'], G: 1, R: 1 }),
      [
        ['model-trait-twice', 'traits', '"a" twice'],
        ['model-shape', 'G', '1'],
        ['model-shape', 'R', '1'],
      ],
    ],
    [given({ fixed: 'yard' }), [['model-fixed', 'fixed', '"yard"']]],
    [given({ fixed: ['yard:year', 'year:yard'] }), [['model-fixed-twice', 'fixed', '"year:yard" twice']]],
    [given({ fixed: ['yard:'] }), [['model-fixed', 'fixed', '"yard:"']]],
    [given({ G: [[6, -2]] }), [['model-shape', 'G', '1 rows of 2']]],
    [
      given({
        G: [
          [6, '2'],
          [2, 4],
        ],
      }),
      [['model-shape', 'G', '"2" among the numbers']],
    ],
    [
      given({
        G: [
          [6, -2],
          [-1, 4],
        ],
      }),
      [['model-not-symmetric', 'G', '-1 in row 2, -2 in column 2']],
    ],
    [
      given({
        G: [
          [6, 5],
          [5, 4],
        ],
      }),
      [['model-not-positive-definite', 'G', 'a matrix with eigenvalue -0.0990195']],
    ],
    [given({ R: [[0]] }), [['model-not-positive-definite', 'R', 'a matrix with eigenvalue 0']]],
  ])('%s', (text, expected) => expect(problems(text)).toEqual(expected));
});
