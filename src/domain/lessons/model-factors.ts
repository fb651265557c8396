import { groupBy } from '#units/group-by.ts';
import type { Outcome } from './outcome.ts';

/** Quantities that may go with laying, in the order they are tried; each counts by its own unit. */
export const QUANTITIES = ['storage_days', 'queen_age', 'dose', 'co2', 'drone_age'] as const;
/** Groups that may go with laying, tried after the quantities. */
export const GROUPINGS = ['tip', 'care', 'saline', 'exceptions'] as const;
/** Who did it and from which tube: drawn as random, each drawn towards all. */
export const RANDOM = ['batch', 'operator'] as const;

/** Why something written down is not in the model: a closed list. */
export type NotUsedReason =
  /** Written down for fewer than four of five queens with a known end. */
  | 'seldom-written'
  /** The same for all. */
  | 'same-for-all'
  /** Fewer than two groups of five queens. */
  | 'small-groups'
  /** Nearly every queen has one of her own. */
  | 'one-each'
  /** Too few queens failed (or laid) to carry one more. */
  | 'too-few-ends'
  /** Changes with the others: the two cannot be told apart. */
  | 'goes-along'
  /** All of one side lay or none does: its odds have no end. */
  | 'parted';

export type NotUsed = { factor: string; why: NotUsedReason };

/** Something that goes into the model: a quantity, a grouping against its commonest group, or random levels. */
export type ModelFactor =
  | { kind: 'quantity'; factor: string }
  | { kind: 'grouping'; factor: string; against: string; others: string[] }
  | { kind: 'random'; factor: string; levels: string[] };

/** At least so many queens make a group that is compared. */
const LEAST_QUEENS = 5;
/** Queens that failed, or laid, for each coefficient: Vittinghoff and McCulloch 2007, Am J Epidemiol 165:710 (five to nine are enough). */
const ENDS_EACH = 5;
const WRITTEN = 0.8;
/** Random levels need so many groups to show a spread; two are compared as a grouping (our choice). */
const LEAST_LEVELS = 3;

/** The number a text says, or null. */
export function amountIn(text: string | undefined): number | null {
  if (text === undefined || text.trim() === '') return null;
  const amount = Number(text.replace(',', '.'));
  return Number.isFinite(amount) ? amount : null;
}

const writtenOf = (outcome: Outcome, factor: string) => outcome.factors[factor] || null;

/** How many queens there are of each value, the commonest first. */
function countsOf(known: readonly Outcome[], factor: string): [string, number][] {
  const groups = groupBy(
    known.flatMap((one) => writtenOf(one, factor) ?? []),
    (value) => value,
  );
  return [...groups]
    .map(([value, all]): [string, number] => [value, all.length])
    .sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1));
}

function asGrouping(factor: string, counts: readonly [string, number][]): ModelFactor | NotUsedReason {
  const large = counts.filter(([, n]) => n >= LEAST_QUEENS).map(([value]) => value);
  const [against, ...others] = large;
  return against === undefined || others.length === 0 ? 'small-groups' : { kind: 'grouping', factor, against, others };
}

function asRandom(factor: string, counts: readonly [string, number][], known: number): ModelFactor | NotUsedReason {
  if (counts.length < LEAST_LEVELS) return asGrouping(factor, counts);
  if (counts.length > known / 2) return 'one-each';
  return { kind: 'random', factor, levels: counts.map(([value]) => value) };
}

function asFactor(known: readonly Outcome[], factor: string): ModelFactor | NotUsedReason | null {
  const isQuantity = QUANTITIES.some((one) => one === factor);
  const written = known.filter((one) => (isQuantity ? amountIn(one.factors[factor]) : writtenOf(one, factor)) !== null);
  if (written.length === 0) return null;
  if (written.length < WRITTEN * known.length) return 'seldom-written';
  const counts = countsOf(written, factor);
  if (counts.length < 2) return 'same-for-all';
  if (isQuantity) return { kind: 'quantity', factor };
  if (RANDOM.some((one) => one === factor)) return asRandom(factor, counts, written.length);
  return asGrouping(factor, counts);
}

const coefficientsOf = (one: ModelFactor) =>
  one.kind === 'quantity' ? 1 : one.kind === 'grouping' ? one.others.length : 0;

/**
 * Which of the things written down go into the model, decided by what is written and never by how it came out: quantities, then groupings, as far
 * as the queens that failed (or laid, if fewer) carry them, five for each coefficient; tube and operator as random levels. Things never written are
 * not mentioned.
 * @param known outcomes whose laying is known
 */
export function chooseFactors(known: readonly Outcome[]): { factors: ModelFactor[]; notUsed: NotUsed[] } {
  const laying = known.filter((one) => one.laying === true).length;
  let room = Math.floor(Math.min(laying, known.length - laying) / ENDS_EACH);
  const factors: ModelFactor[] = [];
  const notUsed: NotUsed[] = [];
  for (const factor of [...RANDOM, ...QUANTITIES, ...GROUPINGS]) {
    const one = asFactor(known, factor);
    if (one === null) continue;
    if (typeof one === 'string') notUsed.push({ factor, why: one });
    else if (coefficientsOf(one) > room) notUsed.push({ factor, why: 'too-few-ends' });
    else {
      room -= coefficientsOf(one);
      factors.push(one);
    }
  }
  return { factors, notUsed };
}

/** Whether everything the model needs is written of this queen, in a group large enough to compare. */
export function isComplete(outcome: Outcome, factors: readonly ModelFactor[]): boolean {
  return factors.every((one) => {
    const value = writtenOf(outcome, one.factor);
    if (one.kind === 'quantity') return amountIn(outcome.factors[one.factor]) !== null;
    if (value === null) return false;
    return one.kind === 'random' || one.against === value || one.others.includes(value);
  });
}
