import { describe, expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { jsonPieces } from '../json-pieces.ts';
import { WrongInput } from '../wrong-input.ts';
import { breedingValuesCommand as command } from './breeding-values.ts';

const FILES: Record<string, string> = {
  'q.csv': 'queen,dam,mated_to,drones\nM,,,\nA,M,M,8\nB,M,,\nC,,,\n',
  'r.csv': 'queen,yard,year,honey\nA,x,2025,40\nB,x,2025,30\n',
  'm.json': '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}',
  'bad.json': '{"traits":["wax"],"fixed":[],"G":[[6,-2],[-2,4]],"R":[[10]]}',
};
const world: World = {
  read: async (path) => new TextEncoder().encode(FILES[path] ?? ''),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
};
const line = (model: string, ...more: string[]) => [
  '--queens',
  'q.csv',
  '--records',
  'r.csv',
  '--model',
  model,
  ...more,
];
/** What the command answers, its JSON as it is written. */
async function run(...given: string[]) {
  const reply = await command.run(readGiven(command, given), world);
  return { json: JSON.parse([...jsonPieces(reply.json)].join('')) as unknown, tables: reply.tables };
}

describe('breeding-values', () => {
  test('every queen, recorded or not, with the keys of the contract', async () => {
    const { json, tables } = await run(...line('m.json'));
    const answer = json as { queens: Record<string, unknown>[]; fixed: object[]; iterations: number };
    expect(answer.queens.map((one) => one.queen)).toEqual(['M', 'A', 'B', 'C']);
    expect(Object.keys(answer.queens[0] ?? {})).toEqual(
      'queen trait workerEffect queenEffect pevWorker pevQueen asMotherOfQueens asDroneMother asColony reliability'.split(
        ' ',
      ),
    );
    expect(answer.fixed).toEqual([{ factor: 'yard:year', level: 'x:2025', trait: 'honey', value: expect.any(Number) }]);
    expect(answer.queens[3]).toMatchObject({
      workerEffect: 0,
      reliability: expect.closeTo(0, 9),
      pevWorker: expect.closeTo(6, 9),
    });
    expect(tables[0]?.rows).toHaveLength(4);
  });
  test('none: no error variances', async () => {
    const { json } = await run(...line('m.json', '--reliability', 'none'));
    expect((json as { queens: object[] }).queens[1]).toMatchObject({
      pevWorker: null,
      pevQueen: null,
      reliability: null,
    });
  });
  test('wrong input is told', async () => {
    const told = async (...given: string[]) => {
      const error = await run(...given).catch((thrown: unknown) => thrown);
      return error instanceof WrongInput ? error.message : String(error);
    };
    expect(await told(...line('m.json', '--reliability', 'some'))).toContain(
      'found "some"; expected exact, approximate, none',
    );
    expect(await told(...line('bad.json'))).toContain(
      'r.csv, row 1, column wax: found columns queen, yard, year, honey',
    );
  });
});
