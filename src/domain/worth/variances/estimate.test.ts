import { describe, expect, test } from 'vitest';
import { computations } from '#compute/computations.ts';
import { pack, unpack } from '#compute/kept-run.ts';
import { type EvaluationInput, fingerprintOf, fingerprintOfAnswer, inOneOrder } from '../evaluation-input.ts';
import { compatibleWith, type EstimatedVariances, estimateFromInput } from './estimate.ts';

/** Three generations; what is recorded is a made-up number, the same at every run. */
function madeUp(queens: number): EvaluationInput {
  return {
    pedigree: {
      queens: Array.from({ length: queens }, (_, i) => ({
        id: `q${i}`,
        dam: i < 8 ? null : `q${(i * 7) % Math.min(i, 30)}`,
        pool: i < 8 ? null : `p${i % 12}`,
      })),
      pools: Array.from({ length: 12 }, (_, p) => ({
        id: `p${p}`,
        sources: [{ queen: `q${p % 8}`, share: 1, drones: 8 }],
      })),
    },
    records: Array.from({ length: queens }, (_, i) => ({
      queen: `q${i}`,
      levels: [`y${i % 6}`],
      values: [20 + ((i * 7907) % 101) / 10 + (i % 8), i % 3 === 0 ? null : 3 + ((i * 101) % 17) / 20],
      record: `r${i}`,
    })),
    model: {
      traits: ['honey', 'calmness'],
      fixed: [['yard']],
      G: [
        [6, -2, 0, 0],
        [-2, 4, 0, 0],
        [0, 0, 0.05, -0.01],
        [0, 0, -0.01, 0.04],
      ],
      R: [
        [10, 0],
        [0, 0.08],
      ],
    },
  };
}

const run = (input: EvaluationInput, told: number[] = []) =>
  estimateFromInput({ input: inOneOrder(input), seed: 1 }, (done, whole) =>
    told.push(done / whole),
  ) as EstimatedVariances;

describe('an estimate is kept like a run of worth', { timeout: 60_000 }, () => {
  const told: number[] = [];
  const input = madeUp(120);
  const found = run(input, told);
  test('the same bits whatever order its input came in, and worked out again from its own kept bytes', () => {
    const shuffled = { ...input, records: [...input.records].reverse() };
    expect(fingerprintOf(inOneOrder(shuffled))).toBe(fingerprintOf(inOneOrder(input)));
    expect(run(shuffled)).toEqual(found);
    const kept = unpack(pack(inOneOrder(input)));
    expect(computations['variances-again']?.({ input: kept, seed: 1 } as never, () => {})).toEqual({
      fingerprint: fingerprintOf(inOneOrder(input)),
      answerFingerprint: fingerprintOfAnswer(found),
    });
  });
  test('with standard errors, a profile of every trait, and why it cannot be used', () => {
    const answer = found;
    expect(answer.traits).toEqual(['honey', 'calmness']);
    expect(answer.records).toBe(120);
    expect(answer.usable).toBe(false);
    expect(answer.warnings.map(({ code }) => code)).toContain('too-few-records');
    expect(answer.standardErrors.G).toHaveLength(4);
    expect(Object.keys(answer.profiles ?? {})).toEqual(['honey', 'calmness']);
    expect(answer.profiles?.honey?.every(({ logLikelihood }) => Number.isFinite(logLikelihood))).toBe(true);
  });
  test('progress only rises and ends', () => {
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told.at(-1)).toBe(1);
  });
});

test('what cannot stand is named, as by a run of worth', () => {
  const answer = run({ ...madeUp(20), records: [] }) as unknown as { problems: EstimatedVariances['problems'] };
  expect(answer.problems).toMatchObject([{ code: 'worth-no-records' }]);
});

test('what a profile does not contradict: within 1.92 of the best (half of χ² 3.841)', () => {
  const at = (values: readonly number[]) =>
    compatibleWith(values.map((logLikelihood, i) => ({ correlation: -0.8 + 0.4 * i, logLikelihood })));
  // straight between −0.8 (−5) and −0.4 (−1): 1.9205 below is crossed at −0.4 − 0.4 · 0.9205 / 4
  expect(at([-5, -1, 0, -1.9])).toEqual({
    from: expect.closeTo(-0.4 - (0.4 * 0.9205) / 4, 10),
    to: expect.closeTo(0.4, 12),
    isFlat: false,
  });
  expect(at([-0.2, 0, -0.1, -1.92])).toMatchObject({ from: -0.8, isFlat: true });
  expect(at([])).toBeNull();
});
