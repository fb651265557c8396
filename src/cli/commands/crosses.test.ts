import { describe, expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { crosses } from './crosses.ts';

const FILES: Record<string, string> = {
  'q.csv': 'queen,dam,mated_to,drones\nA,,B,8\nB,,C,8\nC,,D,8\nD,,A,8\nE,A,C,8\nF,B,D,8\n',
  'c.csv': 'queen,merit,as_dam_max,as_drone_mother_max\nA,3,,\nB,1,6,6\nC,2,,0\nD,0,,\nE,5,4,\n',
  'bad.csv': 'queen,merit,as_dam_max\nX,1,\nA,much,\nA,1,-3\n',
  'few.csv': 'queen,merit,as_dam_max\nA,1,0.5\n',
};
const world: World = {
  read: async (path) => new TextEncoder().encode(FILES[path] ?? ''),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
};
const run = (limit: string, candidates = 'c.csv', queens = ['q.csv', '10']) =>
  crosses.run(
    readGiven(crosses, [
      ...queens.flatMap((text) => ['--queens', text]),
      '--candidates',
      candidates,
      '--limit-coancestry',
      limit,
    ]),
    world,
  );
type Answer = {
  merit: number;
  groupRelationship: number;
  dams: { queen: string; share: number; queens: number }[];
  droneMothers: { queen: string; share: number }[];
  allocation: { dam: string; droneMothers: object[]; queens: number; inbreeding: number; expectedViability: number }[];
};
const answer = async (...given: Parameters<typeof run>) => (await run(...given)).json as Answer;

describe('crosses', () => {
  test('shares add up, limits hold, every queen is allotted', async () => {
    const found = await answer('0.2');
    expect(Object.keys(found)).toEqual(['merit', 'groupRelationship', 'dams', 'droneMothers', 'allocation']);
    const sum = (values: number[]) => values.reduce((a, b) => a + b, 0);
    expect(sum(found.dams.map((one) => one.share))).toBeCloseTo(1, 9);
    expect(sum(found.droneMothers.map((one) => one.share))).toBeCloseTo(1, 9);
    expect(sum(found.dams.map((one) => one.queens))).toBe(10);
    expect(sum(found.allocation.map((one) => one.queens))).toBe(10);
    expect(found.groupRelationship).toBeLessThanOrEqual(0.4 + 1e-9);
    expect(found.droneMothers.some((one) => one.queen === 'C')).toBe(false);
    expect(found.dams.find((one) => one.queen === 'E')?.queens ?? 0).toBeLessThanOrEqual(4);
    for (const one of found.allocation) expect(one.expectedViability).toBeGreaterThan(0.5);
  });
  test('a wider limit gives more merit', async () => {
    expect((await answer('0.3')).merit).toBeGreaterThan((await answer('0.16')).merit);
  });
  test('what cannot be is told', async () => {
    const told = async (...given: Parameters<typeof run>) => {
      const error = await run(...given).catch((thrown: unknown) => thrown);
      return error instanceof WrongInput ? error.message.split('\n') : [String(error)];
    };
    expect((await told('0.01'))[0]).toMatch(/^--limit-coancestry: found 0.01; expected a limit of at least 0\.1\d+/);
    expect((await told('0.2', 'c.csv', ['q.csv']))[0]).toContain(
      '--queens: found "q.csv"; expected the queens file once',
    );
    expect((await told('0.2', 'few.csv'))[0]).toContain('found too few dams');
    expect((await told('0.2', 'bad.csv')).map((line) => line.split(';')[0])).toEqual([
      'bad.csv, row 2, column queen: found "X"',
      'bad.csv, row 3, column merit: found "much"',
      'bad.csv, row 4, column queen: found "A"',
      'bad.csv, row 4, column as_dam_max: found "-3"',
    ]);
  });
});
