import { expect, test } from 'vitest';
import type { World } from '../command.ts';
import { readGiven } from '../given.ts';
import { variances } from './variances.ts';

const rows = Array.from({ length: 24 }, (_, i) => `Q${i},${i < 6 ? '' : `Q${i % 6}`},Q${(i * 5) % 6},8`);
const FILES: Record<string, string> = {
  'q.csv': `queen,dam,mated_to,drones\n${rows.join('\n')}\n`,
  'r.csv': `queen,yard,year,honey\n${rows.map((_, i) => `Q${i},y${i % 2},2025,${30 + ((i * 7) % 11)}`).join('\n')}\n`,
  'm.json': '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}',
};
const told: string[] = [];
const world: World = {
  read: async (path) => new TextEncoder().encode(FILES[path] ?? ''),
  write: () => Promise.reject(new Error('no file is written')),
  tell: (line) => told.push(line),
};
const run = (...more: string[]) =>
  variances.run(readGiven(variances, ['--queens', 'q.csv', '--records', 'r.csv', '--model', 'm.json', ...more]), world);

test('fits, prints its best, and says that the records cannot carry it', async () => {
  const { json } = await run();
  expect(json).toMatchObject({
    G: [
      [expect.any(Number), expect.any(Number)],
      [expect.any(Number), expect.any(Number)],
    ],
    R: [[expect.any(Number)]],
    logLikelihood: expect.any(Number),
    converged: expect.any(Boolean),
    usable: false,
    heritability: { definition: expect.stringContaining('σ²P'), traits: { honey: { worker: expect.any(Number) } } },
    warnings: expect.arrayContaining([expect.stringContaining('24 records are too few')]),
  });
  expect(told.length).toBeGreaterThan(0);
});

test('at the start: the likelihood of the given variances, nothing fitted', async () => {
  const { json } = await run('--at-start');
  expect(json).toMatchObject({
    G: [
      [6, -2],
      [-2, 4],
    ],
    R: [[10]],
    converged: null,
    warnings: [],
  });
  expect((json as { logLikelihood: number }).logLikelihood).toBeLessThan(0);
});

test('the profile of the correlation, when asked for', async () => {
  const { json, tables } = await run('--profile');
  const { profile } = json as { profile: Record<string, { correlation: number; logLikelihood: number }[]> };
  expect(profile.honey?.map((point) => point.correlation)).toEqual([-0.95, -0.8, -0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6]);
  expect(profile.honey?.every((point) => Number.isFinite(point.logLikelihood))).toBe(true);
  expect(tables.at(-1)?.rows).toHaveLength(9);
});
