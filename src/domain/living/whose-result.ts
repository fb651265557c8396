import { addDays, type Day, laterOf } from '#units/calendar-day.ts';
import type { DaySpan } from './day-span.ts';
import type { Stay } from './stay.ts';

/** Days from the beginning of her laying until the colony is all her workers: about 40 (Büchler et al. 2013, J. Apic. Res. 52(1) §3.1.4). */
export const TURNOVER_DAYS = 40;
/** Days from her first egg until her first workers hatch: 21. Before that nothing in the colony is of her. */
export const FIRST_WORKERS_DAYS = 21;

/** A queen's stay at the head of a colony, with the span in which her laying there began (null: by the start of the stay). */
export type Reign = { stay: Stay; laying: DaySpan | null };

/** Whose result a reading over a span of days is: hers wholly, partly, or not. Only `wholly` counts towards worth. */
export type Hers = 'wholly' | 'partly' | 'not';

type Days = { from: Day; to: Day };

const FIRST: Day = '0000-01-01' as Day;
const LAST: Day = '9999-12-31' as Day;
const plus = (day: Day, days: number): Day => (day === FIRST || day === LAST ? day : addDays(day, days));

const starts = ({ stay, laying }: Reign): DaySpan => ({
  earliest: laterOf(stay.from?.earliest ?? FIRST, laying?.earliest ?? FIRST),
  latest: laterOf(stay.from?.latest ?? FIRST, laying?.latest ?? FIRST),
});
const ends = ({ stay }: Reign): DaySpan => stay.to ?? { earliest: LAST, latest: LAST };

/** When the colony may hold workers of another queen: from her coming until a turnover after her going. */
const mayHoldWorkersOf = (other: Reign): Days => ({
  from: other.stay.from?.earliest ?? FIRST,
  to: plus(ends(other).latest, TURNOVER_DAYS),
});

const touches = (a: Days, b: Days): boolean => a.from <= b.to && b.from <= a.to;

/** When the workers are surely all hers, other queens left aside: she may die and her workers work on. */
const surelyHers = (reign: Reign): Days => ({
  from: plus(starts(reign).latest, TURNOVER_DAYS),
  to: plus(ends(reign).earliest, TURNOVER_DAYS),
});

/** The first day a reading may count as hers: a turnover after her laying began, at the latest it may have begun. */
export const countsFrom = (reign: Reign): Day | null => {
  const { from } = surelyHers(reign);
  return from === FIRST ? null : from;
};

/** When any worker may be hers. */
const mayBeHers = (reign: Reign): Days => ({
  from: plus(starts(reign).earliest, FIRST_WORKERS_DAYS),
  to: plus(ends(reign).latest, TURNOVER_DAYS),
});

/** Others whose workers a reading may have met: who came before her is out when her own turnover is over. */
function disturbs(other: Reign, reign: Reign, reading: Days): boolean {
  const before = ends(other).latest <= starts(reign).latest;
  return !before && touches(mayHoldWorkersOf(other), reading);
}

/**
 * Whether a reading of a colony (a score on one day, honey of a season, a winter index over a span) is a queen's: wholly when
 * all its days lie after her turnover and no other queen's workers can have been in it, not when none of her workers can,
 * else partly. Two queens laying side by side make it nobody's until somebody judges.
 * @param reign the queen's stay at the head of that colony
 * @param others all other reigns in the same colony
 */
export function whoseResult(reign: Reign, others: readonly Reign[], reading: Days): Hers {
  if (!touches(mayBeHers(reign), reading)) return 'not';
  const sure = surelyHers(reign);
  const isCovered = sure.from <= reading.from && reading.to <= sure.to;
  return isCovered && !others.some((other) => disturbs(other, reign, reading)) ? 'wholly' : 'partly';
}

/** The reading's queen among all reigns of a colony: whose it wholly is; null when it is nobody's. */
export function queenOfReading(reigns: readonly Reign[], reading: Days): string | null {
  const whole = reigns.filter(
    (one) =>
      whoseResult(
        one,
        reigns.filter((other) => other !== one),
        reading,
      ) === 'wholly',
  );
  return whole.length === 1 ? (whole[0]?.stay.queen ?? null) : null;
}
