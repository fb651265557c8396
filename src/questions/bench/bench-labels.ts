import { z } from 'zod';
import { question } from '../mechanism/question.ts';

/** Most labels of one print: a few sheets. */
const MOST = 500;

/** Numbers to print as labels, and the highest number of that kind in the book. */
export type BenchLabels = { what: 'cages' | 'slots'; numbers: readonly number[]; highest: number };

const input = z.strictObject({
  what: z.enum(['cages', 'slots']),
  from: z.int().min(1).max(9_999).optional(),
  to: z.int().min(1).max(9_999).optional(),
});

const highestOf = (texts: readonly (string | null)[]): number =>
  Math.max(0, ...texts.flatMap((text) => (text !== null && /^\d{1,4}$/.test(text) ? [Number(text)] : [])));

/**
 * Labels for cages and rack slots. Each number is given once and for good, because a label that stays is the one that is trusted; so the
 * answer says which is the highest one in use. Without `from` and `to` nothing is to be printed yet.
 */
export const benchLabels = question({
  name: 'bench-labels',
  what: 'Numbers for the labels of cages and rack slots.',
  input,
  reads: ['cage', 'tube'],
  gather: async ({ what }, facts) =>
    what === 'cages'
      ? (await facts.find('cage')).map(({ number }) => number)
      : (await facts.find('tube')).map(({ slot }) => slot),
  answer: (used, { what, from, to }): BenchLabels => {
    const many = from === undefined || to === undefined ? 0 : Math.min(MOST, Math.max(0, to - from + 1));
    return { what, numbers: Array.from({ length: many }, (_, i) => (from ?? 1) + i), highest: highestOf(used) };
  },
});
