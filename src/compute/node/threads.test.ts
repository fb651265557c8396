import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { evaluate } from '#domain/worth/evaluation.ts';
import { type EvaluationInput, fingerprintOf, fingerprintOfAnswer } from '#domain/worth/evaluation-input.ts';
import type { Fingerprints } from '../worth.ts';
import { computeInThreads } from './threads.ts';

/** A made-up stock: every queen from an older one, mated to drones of another, one record each. */
function madeUp(queens: number): EvaluationInput {
  const older = (i: number, step: number) => `q${(i * step) % Math.max(1, Math.floor(i / 2))}`;
  return {
    pedigree: {
      queens: Array.from({ length: queens }, (_, i) => ({
        id: `q${i}`,
        dam: i < 20 ? null : older(i, 7919),
        pool: i < 20 ? null : `p${i}`,
      })),
      pools: Array.from({ length: queens - 20 }, (_, k) => ({
        id: `p${k + 20}`,
        sources: [{ queen: older(k + 20, 104729), share: 1, drones: 10 }],
      })),
    },
    records: Array.from({ length: queens }, (_, i) => ({
      queen: `q${i}`,
      levels: [`y${i % Math.ceil(queens / 15)}`],
      values: [20 + ((i * 7907) % 101) / 10],
      record: `r${i}`,
    })),
    model: {
      traits: ['honey'],
      fixed: [['yard']],
      G: [
        [6, -2],
        [-2, 4],
      ],
      R: [[10]],
    },
  };
}

// The worker as it stands in the sources, read by the same loader as every script.
const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx/esm/api')).href.replace(/cjs$/, 'mjs');
const worker = new URL('./worker.ts', import.meta.url).href;
const start = `import { register } from '${loader}'; register(); await import('${worker}');`;
const threads = computeInThreads(new URL(`data:text/javascript,${encodeURIComponent(start)}`), 1);
const workOut = (queens: number, options: Parameters<typeof threads.run>[2] = {}) =>
  threads.run<Fingerprints>('evaluation-again', { input: madeUp(queens) }, options);

test('a run of worth is stopped while it works: nothing comes out, this thread answered all along, the next one has its turn', {
  timeout: 60_000,
}, async () => {
  const stopping = new AbortController();
  let [ticks, steps] = [0, 0];
  const ticking = setInterval(() => ticks++, 20);
  const started = performance.now();
  const progress = (done: number) => {
    steps++;
    // laid out and being solved: in the middle of it
    if (done >= 1) stopping.abort();
  };
  await expect(workOut(60_000, { signal: stopping.signal, progress })).rejects.toMatchObject({ name: 'AbortError' });
  const took = performance.now() - started;
  const told = steps;
  clearInterval(ticking);
  expect(told).toBeGreaterThan(0);
  // of the time it took, sending sixty thousand queens across aside
  expect(ticks).toBeGreaterThan(took / 20 / 4);
  await new Promise((resolve) => setTimeout(resolve, 300));
  expect(steps).toBe(told);

  const small = await workOut(60);
  expect(small).toEqual({
    fingerprint: fingerprintOf(madeUp(60)),
    answerFingerprint: fingerprintOfAnswer(evaluate(madeUp(60))),
  });
});

test('stopped before its turn came, it never begins', async () => {
  const stopping = new AbortController();
  stopping.abort();
  await expect(workOut(60, { signal: stopping.signal })).rejects.toMatchObject({ name: 'AbortError' });
});
