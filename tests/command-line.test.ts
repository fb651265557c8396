/** The command line as it is started: what runs in a process of its own for its large pages answers, ends and is stopped as if it did not. */
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { freshFolder, removeFolder } from './support/running-server.ts';

let folder: string;
const file = () => join(folder, 'QUEENS.csv');
const command = (...words: string[]) => [join(process.cwd(), 'combwright.mjs'), ...words];

beforeAll(() => {
  folder = freshFolder();
  const rows = Array.from({ length: 200_000 }, (_, i) => `Q${i},${i < 50 ? '' : `Q${i >> 1}`},Q${i >> 2},10`);
  writeFileSync(file(), `queen,dam,mated_to,drones\n${rows.join('\n')}\n`);
  writeFileSync(join(folder, 'two.csv'), 'queen,dam\nA,\nB,A\n');
});
afterAll(() => removeFolder(folder));

test('answers and exit codes come through; paths are those of the caller', () => {
  const told = spawnSync(process.execPath, command('kinship', '--queens', 'two.csv', '--all', '--json'), {
    cwd: folder,
    encoding: 'utf8',
  });
  expect(told.status).toBe(0);
  expect(JSON.parse(told.stdout).pairs).toEqual([{ a: 'A', b: 'B', relationship: 0.5, coancestry: 0.25 }]);
  const missing = spawnSync(process.execPath, command('kinship', '--queens', 'none.csv'), { cwd: folder });
  expect(missing.status).toBe(2);
});

test.each(['SIGINT', 'SIGTERM'] as const)('%s ends it, and what it started', async (signal) => {
  const child = spawn(process.execPath, command('kinship', '--queens', file(), '--json'), {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  // the first bytes of the answer: the process with the large pages is at work
  child.stdout.once('data', () => child.kill(signal));
  child.stdout.resume();
  // told only when nobody holds the other end of the pipe any more
  const [, by] = await once(child, 'close');
  expect(by).toBe(signal);
});

test('a reader who has seen enough is no fault', async () => {
  const child = spawn(process.execPath, command('kinship', '--queens', file(), '--json'), {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (part: Buffer) => {
    said += part.toString();
  });
  await once(child.stdout, 'readable');
  child.stdout.destroy();
  const [code] = await once(child, 'exit');
  expect(code).toBe(0);
  expect(said).not.toContain('EPIPE');
});
