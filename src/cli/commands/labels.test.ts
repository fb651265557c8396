import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { portsOver } from '../../../tests/support/doing.ts';
import { after, twelveInseminated } from '../../../tests/support/inseminated.ts';
import { canReadPdf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import type { BookWorld } from '../book-world.ts';
import { readGiven } from '../given.ts';
import { oneLine, WrongInput } from '../wrong-input.ts';
import { labelsCommand } from './labels.ts';

let on: Fresh;
beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  await twelveInseminated(on.store);
});
afterAll(() => on.end());

async function labels(line: string) {
  const files: Record<string, Uint8Array> = {};
  const world = {
    write: async (path: string, bytes: Uint8Array) => {
      files[path] = bytes;
    },
    book: async () => portsOver(on.store),
  } as unknown as BookWorld;
  const { json } = await labelsCommand.run(readGiven(labelsCommand, line.split(' ')), world);
  return { json, files };
}

async function problemsOf(line: string): Promise<string[]> {
  try {
    await labels(line);
  } catch (error) {
    if (error instanceof WrongInput) return error.problems.map(oneLine);
    throw error;
  }
  return [];
}

describe.skipIf(!canReadPdf)('labels read back by poppler', () => {
  test('of nucs, with the queens in them', async () => {
    const { files } = await labels(`nucs --today ${after(7)} --out n.pdf`);
    const pdf = files['n.pdf'] ?? new Uint8Array();
    expect(sheetOf(pdf)).toMatchObject({ pages: 1 });
    expect(wordsOf(pdf)).toContain('27-001');
  });

  test('of cages, numbered from and to', async () => {
    const { json, files } = await labels('cages --from 3 --to 5');
    expect(json).toMatchObject({ file: 'labels.pdf' });
    const words = wordsOf(files['labels.pdf'] ?? new Uint8Array()).split(/\s+/);
    expect(['3', '4', '5'].every((number) => words.includes(number))).toBe(true);
    expect(words).not.toContain('6');
  });
});

test('wrong words are named with what was expected, and nothing is drawn', async () => {
  expect(await problemsOf('hats')).toEqual([
    expect.stringMatching(/^column kind: found "hats"; expected one of nucs /),
  ]);
  expect(await problemsOf('nucs --start 25')).toEqual([expect.stringContaining('start')]);
  expect(await problemsOf('cages --from 0 --to 5')).toEqual([expect.stringContaining('from')]);
});
