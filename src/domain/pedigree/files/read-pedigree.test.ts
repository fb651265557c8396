import { describe, expect, test } from 'vitest';
import { encodeUtf8 } from '#units/utf8.ts';
import { broodInbreeding, relationship } from '../kinship.ts';
import type { Pedigree } from '../laid-pedigree.ts';
import { assumptionsOf } from '../pedigree.ts';
import { readPedigree } from './read-pedigree.ts';

const read = (queens: string, semen?: string) =>
  readPedigree(
    { name: 'QUEENS.csv', bytes: encodeUtf8(queens) },
    semen === undefined ? undefined : { name: 'SEMEN.csv', bytes: encodeUtf8(semen) },
  );

function pedigree(queens: string, semen?: string): Pedigree {
  const answer = read(queens, semen);
  if (answer.pedigree === null) throw new Error(JSON.stringify(answer.problems));
  return answer.pedigree;
}

const problems = (queens: string, semen?: string) =>
  read(queens, semen).problems.map((p) => [p.code, p.row, p.column, p.found]);

const HEAD = 'queen,dam,born,mated_to,drones,semen,sisters\n';

describe('matings', () => {
  // The stock of tests/golden/pedigree/every-mating.json, as a breeder writes it; values as there.
  const queens = `${HEAD}Y,X1,,,,,\nX1,E1,,open,12,,\nX2,E1,,,,,\nE1,B,,G,8,,\nE2,B,,,,pool,\nG,D2,,,,,4
D1,A,,,,,\nD2,A,,,10,pool,\nA,,,B,1,,\nB,,,C,8,,\nC,,,,,,\n`;
  const semen = 'batch,source,share,drones\npool,D1,0.5,10\npool,E1,0.3,6\npool,C,0.2,4\n';

  test('every kind of mating, rows in any order', () => {
    const p = pedigree(queens, semen);
    expect(relationship(p, 'D1', 'D2')).toBeCloseTo(0.75, 12);
    expect(relationship(p, 'X1', 'X2')).toBeCloseTo(0.6668046875, 12);
    expect(relationship(p, 'X2', 'Y')).toBeCloseTo(0.33340234375, 12);
    expect(relationship(p, 'G', 'E1')).toBeCloseTo(0.3875, 12);
    expect(broodInbreeding(p, 'E1')).toBeCloseTo(0.19375, 12);
    expect(broodInbreeding(p, 'D2')).toBeCloseTo(0.225, 12);
    expect(broodInbreeding(p, 'E2')).toBeCloseTo(0.1921875, 12);
    expect(broodInbreeding(p, 'X1')).toBe(0);
    expect(broodInbreeding(p, 'C')).toBeNull();
  });

  test('semicolons, a decimal comma, a byte-order mark and unknown columns change nothing', () => {
    const p = pedigree('\uFEFFremark;queen;dam;mated_to;drones\n"x;y";Q;D;;\n;D;;"M:0,6;N:0,4";10\n;M;;;\n;N;;;\n');
    expect(relationship(p, 'Q', 'M')).toBeCloseTo(0.3, 12);
    expect(relationship(p, 'Q', 'N')).toBeCloseTo(0.2, 12);
  });

  test('missing shares fill up, shares near 1 are scaled, and both are said', () => {
    const p = pedigree('queen,dam,mated_to\nA,,M:0.5;N;O\nB,,M:0.6;N:0.405\nM,,\nN,,\nO,,\nQ,A,\nR,B,\n');
    expect(relationship(p, 'Q', 'N')).toBeCloseTo(0.125, 12);
    expect(relationship(p, 'R', 'M')).toBeCloseTo(0.3 / 1.005, 12);
    expect(assumptionsOf(p).map((a) => a.code)).toEqual([
      'drones-not-said',
      'share-filled-in',
      'share-filled-in',
      'drones-not-said',
      'shares-scaled',
    ]);
  });

  test('one or the other is not a mixture', () => {
    const text = 'queen,dam,mated_to,drones\nM,,,\nN,,,\nD,,M:0.7|N:0.3,1\nQ,D,,\nR,D,,\n';
    const p = pedigree(text);
    expect(relationship(p, 'Q', 'M')).toBeCloseTo(0.35, 12);
    // by hand: whichever it was, Q and R are super-sisters
    expect(relationship(p, 'Q', 'R')).toBeCloseTo(0.75, 12);
    expect(assumptionsOf(p).map((a) => a.code)).toEqual(['one-of']);
  });

  test('a batch of whole batches is its sources', () => {
    const semen = 'batch,source,share,drones\nx,M,1,10\ny,N,1,10\nxy,x,0.25,\nxy,y,0.75,\n';
    const mixed = pedigree('queen,dam,semen\nM,,\nN,,\nD,,xy\nQ,D,\nR,D,\n', semen);
    const direct = pedigree(
      'queen,dam,semen\nM,,\nN,,\nD,,z\nQ,D,\nR,D,\n',
      'batch,source,share,drones\nz,M,0.25,10\nz,N,0.75,10\n',
    );
    expect(relationship(mixed, 'Q', 'R')).toBeCloseTo(relationship(direct, 'Q', 'R'), 12);
    expect(relationship(mixed, 'Q', 'N')).toBeCloseTo(0.375, 12);
  });

  test('a queen may be her own drone mother, directly or through a batch', () => {
    const p = pedigree(
      'queen,dam,mated_to,drones,semen\nQ,,Q,5,\nR,,,,b\nD,Q,,,\n',
      'batch,source,share,drones\nb,R,1,\n',
    );
    expect(broodInbreeding(p, 'Q')).toBeCloseTo(0.5, 12);
    expect(broodInbreeding(p, 'R')).toBeCloseTo(0.5, 12);
  });

  test('a dam about whose mating nothing is written is open mated, and it is said', () => {
    const p = pedigree('queen,dam\nM,\nA,M\nB,M\n');
    expect(relationship(p, 'A', 'B')).toBeCloseTo(0.25 + 0.5 / 12, 12);
    expect(assumptionsOf(p)).toEqual([{ code: 'open-mated', queen: 'M', drones: 12 }]);
  });

  test('codes may hold the signs of a mating text, quotation marks and letters of any alphabet', () => {
    const p = pedigree(
      'queen,dam,mated_to,drones\nA:1,,,\n"Z ""b""",,,\nŽ|7,,,\nD,,A:1,1\nE,,"Z ""b""",1\nF,,Ž|7:0.5;A:1:0.5,10\nQ,D,,\nR,E,,\nS,F,,\n',
    );
    expect(relationship(p, 'Q', 'A:1')).toBeCloseTo(0.5, 12);
    expect(relationship(p, 'R', 'Z "b"')).toBeCloseTo(0.5, 12);
    expect(relationship(p, 'S', 'Ž|7')).toBeCloseTo(0.25, 12);
  });
});

describe('what cannot be is named with its row and column', () => {
  test.each([
    ['', [['empty', 1, undefined, 'no header line']]],
    ['queens,dam\nA,\n', [['column-missing', 1, 'queen', 'columns queens, dam']]],
    [HEAD, [['no-rows', undefined, undefined, 'no rows']]],
    ['queen,dam\nA,\n,A\n', [['code-missing', 3, 'queen', 'nothing']]],
    ['queen,dam\nA,\n A ,\n', [['code-twice', 3, 'queen', '"A" again, as in row 2']]],
    ['queen,dam\nopen,\n', [['code-reserved', 2, 'queen', '"open"']]],
    ['queen,dam\nA,B\n', [['dam-unknown', 2, 'dam', '"B"']]],
    ['queen,mated_to\nA,X\n', [['drone-mother-unknown', 2, 'mated_to', '"X"']]],
    ['queen,mated_to\nA,A:0.5;X:0.5\n', [['drone-mother-unknown', 2, 'mated_to', '"X"']]],
    ['queen,mated_to\nA,A:0.5;A:0.4\n', [['shares-not-one', 2, 'mated_to', '"A:0.5;A:0.4"']]],
    ['queen,mated_to\nA,A:1;B\nB,\n', [['nothing-left', 2, 'mated_to', '"A:1;B"']]],
    ['queen,mated_to\nA,A:-1\n', [['share-not-a-number', 2, 'mated_to', '"A:-1"']]],
    ['queen,mated_to\nA,A:x\n', [['share-not-a-number', 2, 'mated_to', '"A:x"']]],
    ['queen,mated_to\nA,A;\n', [['mating-part-empty', 2, 'mated_to', '""']]],
    ['queen,mated_to\nA,A;B|A\nB,\n', [['mating-mixed', 2, 'mated_to', '"A;B|A"']]],
    ['queen,semen\nA,b\n', [['batch-unknown', 2, 'semen', '"b", of which the semen file says nothing']]],
    ['queen,mated_to,semen\nA,A,b\n', [['mating-twice', 2, 'semen', '"b"']]],
    ['queen,mated_to,drones\nA,A,0.5\n', [['drones-not-a-number', 2, 'drones', '"0.5"']]],
    ['queen,mated_to,drones\nA,A,many\n', [['drones-not-a-number', 2, 'drones', '"many"']]],
    ['queen,sisters\nA,2.5\n', [['sisters-not-whole', 2, 'sisters', '"2.5"']]],
    ['queen,born\nA,2027-02-29\n', [['day-not-a-day', 2, 'born', '"2027-02-29"']]],
    ['queen,dam,sisters\nG,,3\nA,G,\n', [['dam-is-group', 3, 'dam', '"G"']]],
    ['queen,dam\nA,A\n', [['loop', 2, 'dam', '"A", who descends from herself (A from A)']]],
    ['queen,dam\nA,C\nB,A\nC,B\n', [['loop', 2, 'dam', '"A", who descends from herself (A from C from B from A)']]],
    [
      'queen,dam,mated_to\nD,,A\nA,D,\n',
      [['loop', 3, 'dam', '"A", who descends from herself (A from semen of D from A)']],
    ],
    [
      'queen,dam,born\nM,,2025-05-01\nA,M,2024-05-01\nB,M,2025-05-01\n',
      [['born-before-dam', 3, 'born', '"2024-05-01", while M was born 2025-05-01']],
    ],
    [
      'queen,dam,born,mated_to\nM,,2020-05-01,D\nD,,2025-05-01,\nA,M,2024-05-01,\n',
      [['born-before-drone-mother', 4, 'born', '"2024-05-01", while D was born 2025-05-01']],
    ],
    // past a dam and past a drone mother whose days are not known
    [
      'queen,dam,born\nG,,2025-05-01\nM,G,\nA,M,2024-05-01\n',
      [['born-before-forebear', 4, 'born', '"2024-05-01", while G was born 2025-05-01']],
    ],
    [
      'queen,dam,born,mated_to\nE,,2025-05-01,\nD,E,,\nM,,2020-05-01,D\nA,M,2024-05-01,\n',
      [['born-before-forebear', 5, 'born', '"2024-05-01", while E was born 2025-05-01']],
    ],
  ])('%j', (text, expected) => expect(problems(text)).toEqual(expected));

  const queens = 'queen,semen\nA,b\nB,\n';
  test.each([
    ['batch,share\nb,1\n', [['column-missing', 1, 'source', 'columns batch, share']]],
    ['batch,source\n,A\n', [['code-missing', 2, 'batch', 'nothing']]],
    ['batch,source\nb,\n', [['code-missing', 2, 'source', 'nothing']]],
    ['batch,source\nb,X\n', [['source-unknown', 2, 'source', '"X"']]],
    ['batch,source\nb,A\nB,A\nb,B\n', [['code-both', 4, 'source', '"B", which is both a queen and a batch']]],
    [
      'batch,source,share\nb,A,0.5\nb,B,0.6\n',
      [['shares-not-one', 2, 'share', 'shares of batch "b" that add up to 1.1']],
    ],
    ['batch,source,drones\nb,A,0\n', [['source-drones-not-a-number', 2, 'drones', '"0"']]],
    [
      'batch,source\nb,c\nc,b\n',
      [['loop', 2, 'source', '"batch b", who descends from herself (batch b from batch c from batch b)']],
    ],
    ['batch,source\nb,A\nb\n', [['row-length', 3, undefined, '1 fields']]],
  ])('semen %j', (text, expected) => expect(problems(queens, text)).toEqual(expected));

  test('a batch made of a batch with drones of a queen not yet born', () => {
    const stock = 'queen,dam,born,semen\nD,,2025-05-01,\nM,,2020-05-01,b\nA,M,2024-05-01,\n';
    expect(problems(stock, 'batch,source,drones\nb,c,\nc,D,5\n')).toEqual([
      ['born-before-forebear', 4, 'born', '"2024-05-01", while D was born 2025-05-01'],
    ]);
  });

  test('either of two alternatives may be the true one, so neither refuses a day', () => {
    const stock = 'queen,dam,born,mated_to\nE,,2025-05-01,\nD,E,,\nF,,,\nM,,2020-05-01,D|F\nA,M,2024-05-01,\n';
    expect(problems(stock)).toEqual([]);
  });
});

test('every problem says what to do', () => {
  const [problem] = read('queen,dam\nA,B\n').problems;
  expect(problem).toEqual({
    file: 'QUEENS.csv',
    row: 2,
    column: 'dam',
    code: 'dam-unknown',
    found: '"B"',
    expected: 'a dam with a row of her own',
    remedy: 'add a row for the dam or correct the code',
  });
});
