import type { Tally } from '#numeric/chance/beta-binomial.ts';
import type { Figure } from './figure.ts';
import { learnedShare } from './learned.ts';
import type { BiologyProfile } from './profile.ts';
import { figureOf } from './profile-figures.ts';

/** What one's own records say of the figures of a profile, by the figure's key. */
export type OwnRecords = {
  /** Shares 0-1: so many of so many, one tally a bar, comb, catch or day. */
  shares: Readonly<Record<string, readonly Tally[]>>;
  /** Sizes above 0 (µl a drone): one mean a catch, with how many it is the mean of. */
  sizes: Readonly<Record<string, readonly { mean: number; of: number }[]>>;
  /** Development times: days, one a queen or comb. */
  days: Readonly<Record<string, readonly number[]>>;
};

/** A figure learned from one's own records: its value and the middle nine tenths of what the next batch may bring, and what it rests on. */
export type LearnedFigure = {
  key: string;
  figure: Figure;
  /** Bars, combs, catches or days it rests on; for development times single queens or combs. */
  batches: number;
  /** Counted of how many in all; `null` for sizes and days. */
  counted: { successes: number; trials: number } | null;
};

/** From so many on, one's own alone are used (as for shares, learned.ts). */
const ENOUGH = 5;
const NINE_TENTHS = 1.6448536269514722;

function spreadOf(logs: readonly number[]): { middle: number; sd: number } {
  const middle = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const squares = logs.reduce((sum, log) => sum + (log - middle) ** 2, 0);
  return { middle, sd: Math.sqrt(squares / (logs.length - 1)) };
}

/**
 * A size above 0 from the means of one's own catches. With five or more: their mean over all drones, and the log-normal range between catches. With fewer: the
 * published figure counts as five catches, its range widened to hold the value. Without any: as it is.
 */
export function learnedSize(published: Figure, catches: readonly { mean: number; of: number }[]): Figure {
  const given = catches.filter(({ mean, of }) => mean > 0 && of > 0);
  if (given.length === 0) return published;
  const all = given.reduce((sum, { of }) => sum + of, 0);
  const own = given.reduce((sum, { mean, of }) => sum + mean * of, 0) / all;
  const basis = 'own records' as const;
  if (given.length < ENOUGH) {
    const value = (published.value * ENOUGH + own * given.length) / (ENOUGH + given.length);
    const [low, high] = [Math.min(published.low, value), Math.max(published.high, value)];
    return { value, low, high, basis, source: '' };
  }
  const { middle, sd } = spreadOf(given.map(({ mean }) => Math.log(mean)));
  const [low, high] = [Math.exp(middle - NINE_TENTHS * sd), Math.exp(middle + NINE_TENTHS * sd)];
  return { value: own, low: Math.min(low, own), high: Math.max(high, own), basis, source: '' };
}

/** A development time from one's own: the middle one of five or more, from the shortest to the longest; as it is with fewer. */
export function learnedDays(published: Figure, days: readonly number[]): Figure {
  if (days.length < ENOUGH) return published;
  const sorted = [...days].sort((a, b) => a - b);
  const [low = 0, high = 0] = [sorted[0], sorted.at(-1)];
  return {
    value: sorted[Math.floor((sorted.length - 1) / 2)] ?? 0,
    low,
    high,
    basis: 'own records',
    source: '',
  };
}

/** Every figure the records say something of, beside the profile they are compared with. Figures without a record of one's own are left out. */
export function learnedFigures(base: BiologyProfile, { shares, sizes, days }: OwnRecords): LearnedFigure[] {
  const ofShares = Object.entries(shares).map(([key, all]): LearnedFigure => {
    const tallies = all.filter(({ trials }) => trials > 0);
    const sum = (of: keyof Tally) => tallies.reduce((total, tally) => total + tally[of], 0);
    const figure = learnedShare(figureOf(base, key), tallies, '');
    return { key, figure, batches: tallies.length, counted: { successes: sum('successes'), trials: sum('trials') } };
  });
  const ofSizes = Object.entries(sizes).map(([key, catches]): LearnedFigure => {
    const given = catches.filter(({ mean, of }) => mean > 0 && of > 0);
    return { key, figure: learnedSize(figureOf(base, key), given), batches: given.length, counted: null };
  });
  const ofDays = Object.entries(days).map(([key, each]): LearnedFigure => {
    return { key, figure: learnedDays(figureOf(base, key), each), batches: each.length, counted: null };
  });
  return [...ofShares, ...ofSizes, ...ofDays].filter(
    ({ batches, figure }) => batches > 0 && figure.basis === 'own records',
  );
}
