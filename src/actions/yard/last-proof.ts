import { provesAlive, type Sight } from '#domain/living/check.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { type Day, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';

/** The sights of some checks, by check. */
export async function sightsOf(facts: Facts, checks: readonly Row<'laying_check'>[]): Promise<Map<RecordId, Sight[]>> {
  const rows = await facts.find('laying_sight', { laying_check: checks.map(({ id }) => id) });
  const byCheck = groupBy(rows, ({ laying_check }) => laying_check);
  return new Map([...byCheck].map(([id, saw]) => [id, saw.map((row) => row.saw)]));
}

/**
 * The last day, up to `by`, on which she was surely alive: seen, her eggs seen, inseminated, let in, marked, or emerged.
 * `null` when nothing says so.
 */
export async function lastProof(facts: Facts, queen: RecordId, by: Day): Promise<Day | null> {
  const checks = await facts.find('laying_check', { queen });
  const sights = await sightsOf(facts, checks);
  const seen = checks.filter((check) =>
    provesAlive({ day: check.day, sights: sights.get(check.id) ?? [], queenSeen: check.queen_seen }),
  );
  const days = [
    ...seen.map(({ day }) => day),
    ...(await facts.find('insemination', { queen, done: 1 })).map(dayOfInsemination),
    ...(await facts.find('introduction', { queen })).map(({ day }) => day),
    ...(await facts.find('mark', { queen })).map(({ worn_from }) => worn_from),
    (await facts.get('queen', queen))?.emerged ?? null,
  ].filter((day): day is Day => day !== null && day <= by);
  return days.reduce<Day | null>((last, day) => (last === null ? day : laterOf(last, day)), null);
}
