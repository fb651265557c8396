import { fitBetaSpread, type Tally } from '#numeric/chance/beta-binomial.ts';
import { betaShapes } from '#numeric/chance/factor.ts';
import { betaQuantile } from '#numeric/chance/incomplete-beta.ts';
import { shareOf } from './chances/doubt.ts';
import type { Figure } from './figure.ts';

/** From so many batches on, their own spread is used instead of the published one. */
const ENOUGH_BATCHES = 5;
/** A published figure never counts for more than so many cases beside one's own. */
const MOST_CASES = 20;
/** However well batches agree, the next may differ this much (standard deviation): a season is never that uniform. */
const LEAST_DEVIATION = 0.02;

function figureOfBeta(mean: number, sd: number, source: string): Figure {
  const wide = Math.max(sd, LEAST_DEVIATION);
  const { a, b } = betaShapes(mean, Math.min(wide, 0.99 * Math.sqrt(mean * (1 - mean))));
  const [low, high] = [betaQuantile(0.05, a, b), betaQuantile(0.95, a, b)];
  return { value: mean, low: Math.min(low, mean), high: Math.max(high, mean), basis: 'own records', source };
}

/** The published figure as so many cases of a Beta. */
function casesOf(figure: Figure): { a: number; b: number } {
  const share = shareOf(figure);
  if (share.kind === 'point') return { a: figure.value * MOST_CASES, b: (1 - figure.value) * MOST_CASES };
  const { a, b } = betaShapes(share.mean, share.sd);
  const scale = Math.min(1, MOST_CASES / (a + b));
  return { a: a * scale, b: b * scale };
}

/**
 * A share learned from one's own batches (accepted of grafted, yielding of handled …). With five batches or more: their most likely Beta, so that the range is what
 * the next batch may bring. With fewer: the published figure, worth at most twenty cases, moved by the counts. Without counts: the figure as it is.
 * `source` names the records it rests on.
 */
export function learnedShare(published: Figure, batches: readonly Tally[], source: string): Figure {
  const tried = batches.filter(({ trials }) => trials > 0);
  if (tried.length === 0) return published;
  if (tried.length >= ENOUGH_BATCHES) {
    const { mean, spread } = fitBetaSpread(tried);
    const inside = Math.min(0.999, Math.max(0.001, mean));
    return figureOfBeta(inside, Math.sqrt(inside * (1 - inside) * (spread / (1 + spread))), source);
  }
  const { a, b } = casesOf(published);
  const successes = tried.reduce((sum, one) => sum + one.successes, a);
  const all = tried.reduce((sum, one) => sum + one.trials, a + b);
  const mean = successes / all;
  return figureOfBeta(mean, Math.sqrt((mean * (1 - mean)) / (all + 1)), source);
}
