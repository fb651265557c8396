import { addDays, type Day, daysBetween, laterOf } from '#units/calendar-day.ts';
import { doubt, type Problem } from '#units/problem.ts';
import { inOrder, isAnother, type LayingCheck, provesAlive } from './check.ts';
import type { DaySpan } from './day-span.ts';

/** How a queen's story ended. */
export type FateKind =
  | 'died'
  | 'lost'
  | 'superseded'
  | 'drone-layer'
  | 'culled'
  | 'sold'
  | 'given'
  | 'sampled'
  | 'swarmed'
  | 'not-taken';

/** Sold, given and sampled queens did not fail: their story is cut off, not lost. */
export const isLoss = (kind: FateKind): boolean => kind !== 'sold' && kind !== 'given' && kind !== 'sampled';

/** A fate as recorded; `on` null when no day is known, a span when it lies between two looks. */
export type Fate = { kind: FateKind; on: DaySpan | null };

/** Everything about one queen that says whether she lives. */
export type LivingFacts = {
  emerged: Day | null;
  checks: readonly LayingCheck[];
  fates: readonly Fate[];
  /** Days she was at hand otherwise: inseminated, grafted from, marked, moved. */
  handled: readonly Day[];
  /** Spans in which nobody looked or wrote; ISO days, both included. */
  notWatched: readonly { from: Day; to: Day }[];
};

/**
 * alive: seen (or fresh eggs) not longer ago than a season, and no end known. gone: by a fate, or by a look that found her
 * missing or another queen in her place. unknown: everything else; never "alive" by default.
 */
export type LivingState = {
  state: 'alive' | 'gone' | 'unknown';
  lastSeen: Day | null;
  /** How she ended; `derived` when no fate is written but a look showed it. */
  end: { kind: FateKind; on: DaySpan | null; isLoss: boolean; derived: boolean } | null;
  why: 'seen' | 'fate' | 'found-missing' | 'never-seen' | 'not-seen-for-a-season' | 'not-watched';
  problems: readonly Problem<'seen-after-the-end'>[];
};

/** Days after which a queen nobody saw is no longer taken as living: from late summer past the spring check (our choice). */
export const SEASON_DAYS = 270;

function lastSeenOf(facts: LivingFacts, by: Day): Day | null {
  const seen = facts.checks.filter(provesAlive).map((check) => check.day);
  const days = [...seen, ...facts.handled, ...(facts.emerged === null ? [] : [facts.emerged])].filter(
    (day) => day <= by,
  );
  return days.reduce<Day | null>((last, day) => (last === null ? day : laterOf(last, day)), null);
}

/** The end a look shows: found missing, or another queen in her place, and not seen again after; between her last sight and that look. */
function endSeen(facts: LivingFacts, lastSeen: Day | null, by: Day): LivingState['end'] {
  const missing = inOrder(facts.checks).find(
    (check) =>
      check.day <= by &&
      (lastSeen === null || check.day > lastSeen) &&
      (isAnother(check) || check.sights.includes('queen-gone')),
  );
  if (missing === undefined) return null;
  const kind: FateKind = isAnother(missing) ? 'superseded' : 'lost';
  return { kind, on: { earliest: lastSeen ?? missing.day, latest: missing.day }, isLoss: true, derived: true };
}

function endWritten(facts: LivingFacts, by: Day): LivingState['end'] {
  const known = facts.fates.filter((fate) => fate.on === null || fate.on.earliest <= by);
  const [first] = [...known].sort((a, b) => ((a.on?.latest ?? '9999') < (b.on?.latest ?? '9999') ? -1 : 1));
  return first === undefined ? null : { ...first, isLoss: isLoss(first.kind), derived: false };
}

const wasWatched = (facts: LivingFacts, from: Day, by: Day): boolean =>
  !facts.notWatched.some((span) => span.from <= addDays(from, 1) && span.to >= by);

/**
 * Whether a queen lives on a day, from what was seen and written up to then.
 * A fate that is written decides; else a look that found her missing; else the time since she was last seen.
 * @param by the day that is asked about
 * @param seasonDays days without a sight that make her unknown
 */
export function livingState(facts: LivingFacts, by: Day, seasonDays: number = SEASON_DAYS): LivingState {
  const lastSeen = lastSeenOf(facts, by);
  const written = endWritten(facts, by);
  if (written !== null) {
    const isLater = written.isLoss && written.on !== null && lastSeen !== null && lastSeen > written.on.latest;
    const problems = isLater
      ? [doubt('fate', 'seen-after-the-end', { seen: lastSeen, ended: written.on?.latest ?? '' })]
      : [];
    return { state: 'gone', lastSeen, end: written, why: 'fate', problems };
  }
  const seen = endSeen(facts, lastSeen, by);
  if (seen !== null) return { state: 'gone', lastSeen, end: seen, why: 'found-missing', problems: [] };
  if (lastSeen === null) return { state: 'unknown', lastSeen, end: null, why: 'never-seen', problems: [] };
  if (daysBetween(lastSeen, by) <= seasonDays)
    return { state: 'alive', lastSeen, end: null, why: 'seen', problems: [] };
  const why = wasWatched(facts, lastSeen, by) ? 'not-seen-for-a-season' : 'not-watched';
  return { state: 'unknown', lastSeen, end: null, why, problems: [] };
}
