import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { after, at, twelveInseminated } from '../../../tests/support/inseminated.ts';
import { canReadPdf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import type { BookWorld } from '../book-world.ts';
import { readGiven } from '../given.ts';
import { oneLine, WrongInput } from '../wrong-input.ts';
import { labelsCommand } from './labels.ts';

let on: Fresh;
beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  await twelveInseminated(on.store);
  await raised();
});
afterAll(() => on.end());

/** Two bars and a drone comb, all still to come out a month after the inseminations. */
async function raised() {
  const doing = { done: at(after(20)), happened: true };
  const dam = await does(on.store, 'record-queen', { queen: { code: '26-014', emerged: '2026-08-20' } }, doing);
  const ranges = [{ position_from: 1, position_to: 10, dam }];
  for (const code of ['bar 1', 'bar 2'])
    await does(on.store, 'record-graft', { graft: { code, day: after(20) }, ranges }, doing);
  const comb = { code: '26-014 a', mother: dam, in_on: after(10), laid_from: after(12), laid_to: after(15) };
  await does(on.store, 'record-drone-comb', comb, doing);
}

const labels = (line: string) => drawn(line.split(' '));

async function drawn(words: string[]) {
  const files: Record<string, Uint8Array> = {};
  const world = {
    write: async (path: string, bytes: Uint8Array) => {
      files[path] = bytes;
    },
    book: async () => portsOver(on.store),
  } as unknown as BookWorld;
  const { json } = await labelsCommand.run(readGiven(labelsCommand, words), world);
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

  test('of bars and drone combs, every one of use or the one of a code; and the incubator door', async () => {
    const words = async (line: string) => {
      const { files } = await labels(line);
      return wordsOf(files['labels.pdf'] ?? new Uint8Array()).replace(/\s+/g, ' ');
    };
    const bars = await words(`bars --today ${after(22)}`);
    expect([bars.includes('bar 1'), bars.includes('bar 2')]).toEqual([true, true]);
    const [kind = '', ...rest] = ['bars', '--today', after(22), '--code', 'bar 2'];
    const { files } = await drawn([kind, ...rest]);
    const one = wordsOf(files['labels.pdf'] ?? new Uint8Array());
    expect([one.includes('bar 1'), one.includes('bar 2')]).toEqual([false, true]);
    // Graft on day 20: sealed cells are caged ten days later (12 July), the first queen may be out on the day after.
    expect(one.replace(/\s+/g, ' ')).toContain('cage by 12 Jul');
    expect(await words(`combs --today ${after(22)}`)).toContain('26-014 a');
    expect(await words(`incubator --today ${after(22)}`)).toContain('In the incubator');
    // Long out by then: nothing is drawn but that.
    expect(await words(`bars --today ${after(60)}`)).not.toContain('bar 1');
  });
});

test('wrong words are named with what was expected, and nothing is drawn', async () => {
  expect(await problemsOf('hats')).toEqual([
    expect.stringMatching(/^column kind: found "hats"; expected one of nucs /),
  ]);
  expect(await problemsOf('nucs --start 25')).toEqual([expect.stringContaining('start')]);
  expect(await problemsOf('bars --code X')).toEqual([expect.stringContaining('--code: found "X"')]);
  expect(await problemsOf('cages --from 0 --to 5')).toEqual([expect.stringContaining('from')]);
});
