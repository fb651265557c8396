import { describe, expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { WrongInput } from '../wrong-input.ts';
import { kinship } from './kinship.ts';

const QUEENS = 'queen,dam,mated_to,drones\nM,,,\nA,,M,1\nB,A,,\nC,A,B,8\n';
const worldOf = (files: Record<string, string>): World => ({
  read: async (path) => new TextEncoder().encode(files[path] ?? ''),
  write: () => Promise.reject(new Error('no file is written')),
  tell: () => undefined,
});
const run = (line: string[], queens = QUEENS) => kinship.run(readGiven(kinship, line), worldOf({ 'q.csv': queens }));

async function problemsOf(line: string[], queens = QUEENS): Promise<string[]> {
  const error = await run(line, queens).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof WrongInput)) throw new Error(`not refused: ${String(error)}`);
  return error.message.split('\n');
}

describe('kinship', () => {
  test('the keys of the contract; pairs only when asked for', async () => {
    const { json } = await run(['--queens', 'q.csv']);
    expect(json).toEqual({
      queens: [
        { queen: 'M', inbreeding: 0, broodInbreeding: null },
        { queen: 'A', inbreeding: 0, broodInbreeding: 0 },
        { queen: 'B', inbreeding: 0, broodInbreeding: null },
        { queen: 'C', inbreeding: 0, broodInbreeding: expect.closeTo(0.375, 12) },
      ],
      pairs: [],
      assumptions: [],
    });
  });

  test('pairs and all', async () => {
    const pairs = await run(['--queens', 'q.csv', '--pairs', ' B , C ;M,B;']);
    expect(pairs.json).toMatchObject({
      pairs: [
        { a: 'B', b: 'C', relationship: expect.closeTo(0.75, 12), coancestry: expect.closeTo(0.375, 12) },
        { a: 'M', b: 'B', relationship: expect.closeTo(0.5, 12) },
      ],
    });
    expect(pairs.tables[1]?.rows[0]?.slice(0, 2)).toEqual(['B', 'C']);
    const all = await run(['--queens', 'q.csv', '--all']);
    expect((all.json as { pairs: unknown[] }).pairs).toHaveLength(6);
  });

  test('wrong pairs and wrong files are told in one line each', async () => {
    expect(await problemsOf(['--queens', 'q.csv', '--pairs', 'A,X;A'])).toEqual([
      '--pairs: found "X"; expected a queen of the pedigree; correct the pairs',
      '--pairs: found "A"; expected two codes with a comma between, such as "A,B;C,D"; correct the pairs',
    ]);
    expect(await problemsOf(['--queens', 'q.csv'], 'queen,dam\nA,Z\n')).toEqual([
      'q.csv, row 2, column dam: found "Z"; expected a dam with a row of her own; add a row for the dam or correct the code',
    ]);
    const many = `queen\n${Array.from({ length: 3001 }, (_, i) => `Q${i}\n`).join('')}`;
    expect((await problemsOf(['--queens', 'q.csv', '--all'], many))[0]).toContain('3001 queens');
  });
});
