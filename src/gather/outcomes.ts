import type { Outcome, Fate as OutcomeFate } from '#domain/lessons/outcome.ts';
import { inOrder, isAnother } from '#domain/living/check.ts';
import { layingRecord } from '#domain/living/laying-record.ts';
import { type FateKind, livingState } from '#domain/living/living-state.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherIdentity } from './identity.ts';
import { ledgerReads } from './ledger.ts';
import { type GatheredLiving, gatherLiving, livingReads } from './living.ts';
import { dayOfInsemination } from './matings.ts';
import { gatherNames, nameReads } from './names.ts';
import { type Attempt, factorsOf, gatherOutcomeBook, SPLIT_DAYS } from './outcome-factors.ts';

export const outcomeReads = [
  ...ledgerReads,
  ...livingReads,
  ...nameReads,
  'insemination',
  'insemination_exception',
  'bench_day',
  'saline_batch',
  'person',
  'cross',
  'co2_treatment',
  'co2_queen',
  'care',
  'care_queen',
] as const satisfies readonly KindName[];

/** One insemination of one queen (a split dose is one) and what became of it, with all that may have made the difference. */
export type RecordedOutcome = Outcome & {
  queenId: RecordId;
  /** The day eggs were first seen. */
  eggsOn: Day | null;
  brood: 'worker' | 'drone' | 'none' | 'unknown';
  inseminations: readonly RecordId[];
  cross: RecordId | null;
};

/** The inseminations of one queen as attempts: those at most a week apart are one. */
function attemptsOf(queen: RecordId, rows: readonly Row<'insemination'>[]): Attempt[] {
  const sorted = [...rows].sort((a, b) => ((dayOfInsemination(a) ?? '') < (dayOfInsemination(b) ?? '') ? -1 : 1));
  const parts: Row<'insemination'>[][] = [];
  for (const row of sorted) {
    const last = parts.at(-1);
    const [before, now] = [last?.[0], row].map((each) => (each === undefined ? null : dayOfInsemination(each)));
    const isPart = before != null && now != null && daysBetween(before, now) <= SPLIT_DAYS;
    if (last !== undefined && isPart) last.push(row);
    else parts.push([row]);
  }
  const startOf = (part: readonly Row<'insemination'>[] | undefined) =>
    part?.[0] === undefined ? null : dayOfInsemination(part[0]);
  return parts.map((part, n) => ({ queen, from: startOf(part), rows: part, next: startOf(parts[n + 1]) }));
}

const FATES: Readonly<Record<FateKind, OutcomeFate>> = {
  died: 'lost',
  lost: 'lost',
  swarmed: 'lost',
  'not-taken': 'lost',
  superseded: 'superseded',
  'drone-layer': 'drone-layer',
  culled: 'culled',
  sold: 'sold',
  given: 'given',
  sampled: 'sampled',
};

type Ends = Pick<RecordedOutcome, 'laying' | 'layingOn' | 'checkedOn' | 'lostOn' | 'fate' | 'brood' | 'eggsOn'>;

/** What became of one attempt, as it is known today. An attempt that was followed by another did not lead to laying. */
function endsOf({ queen, from, next }: Attempt, living: GatheredLiving, today: Day): Ends {
  const facts = living.of(queen);
  const checks = inOrder(facts.checks).filter(
    ({ day }) => day <= today && (from === null || day >= from) && (next === null || day < next),
  );
  const end = next === null ? livingState(facts, today).end : null;
  const isHers = end !== null && (from === null || end.on === null || end.on.latest >= from);
  const isLost = next !== null || (isHers && end.isLoss);
  const record = layingRecord({ checks, since: from, isLost });
  const there = checks.filter((check) => !isAnother(check) && !check.sights.includes('queen-gone'));
  const looked = there.filter(
    ({ sights, queenSeen }) => queenSeen === 'seen' || sights.some((s) => s !== 'not-opened'),
  );
  return {
    laying: record.laying === null ? null : record.laying === 'yes',
    layingOn: record.layingOn,
    checkedOn: looked.at(-1)?.day ?? null,
    lostOn: isHers ? (end.on?.latest ?? null) : null,
    fate: isHers ? FATES[end.kind] : null,
    brood: record.brood,
    eggsOn: record.began?.latest ?? null,
  };
}

/**
 * What became of every queen that was inseminated, as far as it is known by a day: the same facts an OUTCOMES.csv holds. In the
 * order of insemination. One row an insemination; doses up to a week apart are one, a later one is a second try.
 */
export async function gatherOutcomes(facts: Facts, today: Day): Promise<RecordedOutcome[]> {
  const whoWas = await gatherIdentity(facts);
  const living = await gatherLiving(facts);
  const nameOf = await gatherNames(facts);
  const book = await gatherOutcomeBook(facts);
  const done = (await facts.find('insemination', { done: 1 })).filter((row) => (dayOfInsemination(row) ?? '') <= today);
  const byQueen = groupBy(done, (row) => whoWas(row.queen, dayOfInsemination(row)));
  const attempts = [...byQueen].flatMap(([queen, rows]) => attemptsOf(queen, rows));
  const outcomes = attempts.map(
    (attempt): RecordedOutcome => ({
      queen: nameOf(attempt.queen),
      queenId: attempt.queen,
      inseminated: attempt.from,
      ...endsOf(attempt, living, today),
      factors: factorsOf(attempt, book),
      inseminations: attempt.rows.map(({ id }) => id),
      cross: attempt.rows[0]?.cross ?? null,
    }),
  );
  return outcomes.sort((a, b) => ((a.inseminated ?? '9999') < (b.inseminated ?? '9999') ? -1 : 1));
}
