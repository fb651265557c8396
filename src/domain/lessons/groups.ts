import { fitBetaSpread, shrink, type Tally } from '#numeric/chance/beta-binomial.ts';
import { shrinkFew } from '#numeric/chance/few-groups.ts';
import { fisherExact } from '#numeric/chance/fisher-exact.ts';
import type { Outcome } from './outcome.ts';
import { type LayingTally, tallyOf } from './tally.ts';

/** One group of queens that share an operator, a batch, a tip …; `group` null where that was not written down. */
export type Group = {
  group: string | null;
  outcomes: readonly Outcome[];
  tally: LayingTally;
  /** The group's rate drawn towards all groups, so that few queens do not look like a lesson. Null when nothing is known at all. */
  shrunken: number | null;
  /** How often chance alone parts this group from all others as much: Fisher's exact test, two-sided. */
  chanceAlone: number;
};

/**
 * What is believed of a few groups before counting: about 85 % lay, and groups differ little (correlation about 0.1). Mean 0.85 is the
 * rate over five years with homogenised semen in a published report; both are weak (worth ten queens).
 */
const FEW_GROUPS = { mean: [8.5, 1.5], correlation: [1, 9] } as const;
const FEW = 5;

/** Numbers by size, before words by their letters; "not written down" last. */
function inOrder(a: string | null, b: string | null): number {
  if (a === null || b === null) return a === b ? 0 : a === null ? 1 : -1;
  const [x, y] = [Number(a), Number(b)];
  if (Number.isFinite(x) && Number.isFinite(y) && x !== y) return x - y;
  if (Number.isFinite(x) !== Number.isFinite(y)) return Number.isFinite(x) ? -1 : 1;
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Outcomes parted by one factor, in order. */
export function partBy(outcomes: readonly Outcome[], factor: string): Map<string | null, Outcome[]> {
  const parts = new Map<string | null, Outcome[]>();
  for (const outcome of outcomes) {
    const name = outcome.factors[factor] || null;
    parts.set(name, [...(parts.get(name) ?? []), outcome]);
  }
  return new Map([...parts].sort(([a], [b]) => inOrder(a, b)));
}

/** Maximum likelihood from five groups with known outcomes on, a weak prior below. */
function shrunkenRates(tallies: readonly Tally[]): (number | null)[] {
  const tried = tallies.filter(({ trials }) => trials > 0);
  if (tried.length === 0) return tallies.map(() => null);
  if (tried.length < FEW) return shrinkFew(tallies, FEW_GROUPS);
  const spread = fitBetaSpread(tried);
  return tallies.map((tally) => shrink(tally, spread));
}

/**
 * The groups of one factor (operator, batch, tip, storage_days …) with counts, both denominators, shrunken rates and how easily chance
 * alone would part them. Rates count queens whose laying is known.
 */
export function groupsOf(outcomes: readonly Outcome[], factor: string): Group[] {
  const parts = [...partBy(outcomes, factor)].map(([group, members]) => ({
    group,
    outcomes: members,
    tally: tallyOf(members),
  }));
  const shrunken = shrunkenRates(parts.map(({ tally }) => ({ successes: tally.known.laying, trials: tally.known.of })));
  const all = tallyOf(outcomes).known;
  return parts.map((part, i) => {
    const { laying, of } = part.tally.known;
    const chanceAlone = fisherExact({ a: laying, m: of, b: all.laying - laying, n: all.of - of });
    return { ...part, shrunken: shrunken[i] ?? null, chanceAlone };
  });
}
