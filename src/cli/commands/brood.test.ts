import { describe, expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { brood } from './brood.ts';

const FILES: Record<string, string> = {
  'q.csv': 'queen,dam,mated_to,drones\nM,,,\nN,,,\nA,,M,1\nB,A,,\na=b,,,\n',
  'typed.csv': 'queen,allele1,allele2\nM,1,2\nN,3,4\nB,1,3\n',
  'bad.csv': 'queen,allele1,allele2\nM,1,1\nX,1,2\n',
  'counts.csv': 'queen;viable;cells\nA;90;100\nA;3.5;100\n',
};
const world: World = {
  read: async (path) => new TextEncoder().encode(FILES[path] ?? ''),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
};
const run = (...line: string[]) => brood.run(readGiven(brood, ['--queens', 'q.csv', ...line]), world);
async function problemsOf(...line: string[]): Promise<string[]> {
  const error = await run(...line).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof WrongInput)) throw new Error(`not refused: ${String(error)}`);
  return error.message.split('\n');
}

describe('brood', () => {
  test('the keys of the contract, one entry a cross in order, the same for the same seed', async () => {
    const line = ['--cross', 'B=M', '--cross', 'a=b=M:0.5;open:0.5', '--draws', '500', '--seed', '3'];
    const { json } = await run(...line);
    expect(json).toEqual({
      crosses: [
        {
          queen: 'B',
          mated_to: 'M',
          inbreeding: expect.closeTo(0.25, 12),
          expectedViability: expect.closeTo(0.73, 1),
          sdViability: expect.any(Number),
          probabilityBelowLimit: expect.any(Number),
          draws: 500,
        },
        expect.objectContaining({ queen: 'a=b', mated_to: 'M:0.5;open:0.5', inbreeding: 0 }),
      ],
    });
    expect((await run(...line)).json).toEqual(json);
  });

  test('typed queens settle it', async () => {
    const { json } = await run(
      '--cross',
      'B=M',
      '--cross',
      'B=N',
      '--drones',
      '1000',
      '--alleles-known',
      'typed.csv',
      '--draws',
      '200',
    );
    expect(json).toMatchObject({ crosses: [{ expectedViability: 0.75 }, { expectedViability: 0.75 }] });
  });

  test('what is wrong is told', async () => {
    expect(await problemsOf('--cross', 'X=M', '--cross', 'B=Y', '--cross', 'B=M:0.5', '--cross', 'B=M|N')).toEqual([
      '--cross: found "X=M"; expected a queen of the pedigree, = and her drone mothers; write crosses as --cross "Q1=M:0.5;N:0.5"',
      '--cross: found "Y" in "B=Y"; expected drone mothers of the pedigree, or open; write crosses as --cross "Q1=M:0.5;N:0.5"',
      '--cross: found "M:0.5" in "B=M:0.5"; expected drone mothers with shares that add up to 1; write crosses as --cross "Q1=M:0.5;N:0.5"',
      '--cross: found "B=M|N"; expected a mixture: a planned cross is not one or the other; write crosses as --cross "Q1=M:0.5;N:0.5"',
    ]);
    expect(
      (await problemsOf('--cross', 'B=M', '--limit', '85', '--drones', '0.5')).map((line) => line.split(';')[0]),
    ).toEqual(['--drones: found 0.5', '--limit: found 85']);
    expect(
      (await problemsOf('--cross', 'B=M', '--alleles-known', 'bad.csv')).map((line) => line.split(';')[0]),
    ).toEqual(['bad.csv, row 2: found "1"', 'bad.csv, row 3, column queen: found "X"']);
    expect((await problemsOf('--cross', 'B=M', '--brood-counts', 'counts.csv'))[0]).toContain(
      'counts.csv, row 3, column viable: found "3.5"',
    );
  });
});
