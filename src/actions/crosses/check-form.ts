import { shippedProfiles } from '#domain/rearing/profiles.ts';
import { refusalsOf } from '#domain/rearing/wish.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles, namedIn } from '#gather/profiles.ts';
import type { Facts } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { namedBy, type Plan } from './plan.ts';

/** Any day will do to ask whether the ages and counts of a plan can be counted with at all. */
const ANY_DAY = '2000-06-01' as Day;

const FIELD_OF: Readonly<Record<string, string>> = {
  inseminate: 'cross.inseminate_on',
  queens: 'cross.queens_wanted',
  queenAge: 'cross.queen_age',
  droneAge: 'cross.drone_age_from',
  doses: 'cross.doses',
  holdDays: 'cross.hold_days',
};

/** The field of a plan's form that a problem of the countback stands at. */
export const atField = <P extends Problem>(problem: P): P => ({
  ...problem,
  path: FIELD_OF[problem.path] ?? problem.path,
});

function sharesProblem({ sources }: Plan): Problem[] {
  const given = sources.flatMap(({ share }) => (share == null ? [] : [share]));
  const sum = given.reduce((all, share) => all + share, 0);
  const isWhole = given.length === sources.length ? Math.abs(sum - 1) <= 0.01 : sum < 1;
  if (given.length === 0 || (isWhole && given.every((share) => share > 0))) return [];
  return [refuse('drone_sources', 'shares-not-whole', { sum: Math.round(sum * 100) })];
}

function twice(ids: readonly (string | null)[], path: string): Problem[] {
  const seen = new Set<string>();
  return ids.flatMap((id, i): Problem[] => {
    if (id === null) return [refuse(`${path}.${i}`, 'needed')];
    if (seen.has(id)) return [refuse(`${path}.${i}`, 'chosen-twice')];
    seen.add(id);
    return [];
  });
}

async function codeProblem(facts: Facts, { cross, id }: Plan): Promise<Problem[]> {
  const others = await facts.find('cross', { code: cross.code });
  const taken = others.some((other) => other.id !== id && other.cancelled !== 1);
  return taken ? [refuse('cross.code', 'cross-code-taken', { code: cross.code })] : [];
}

/** What cannot be meant, whatever the book says: no queens, no dam, shares that do not add up, ages that go backwards. */
export async function formProblems(facts: Facts, plan: Plan): Promise<Problem[]> {
  const { cross, dams, sources } = plan;
  const profiles = await gatherProfiles(facts);
  const wish = wishOf({ ...cross, inseminate_on: cross.inseminate_on ?? ANY_DAY }, profiles);
  const problems: Problem[] = wish === null ? [] : refusalsOf(wish).map(atField);
  if (cross.dose_ul === 0) problems.push(refuse('cross.dose_ul', 'not-above-zero'));
  if (dams.length === 0) problems.push(refuse('dams', 'no-dam'));
  if (sources.length === 0) problems.push(refuse('drone_sources', 'no-drone-side'));
  problems.push(...twice(dams, 'dams'), ...twice(sources.map(namedBy), 'drone_sources'), ...sharesProblem(plan));
  if (cross.profile !== null && namedIn(profiles, cross.profile) === null) {
    const names = [...profiles.own.map(({ profile }) => profile.name), ...shippedProfiles.map(({ name }) => name)];
    const known = names.join(', ');
    problems.push(refuse('cross.profile', 'unknown-profile', { profile: cross.profile, known }));
  }
  if (cross.latest_on !== null && cross.inseminate_on !== null && cross.latest_on < cross.inseminate_on)
    problems.push(refuse('cross.latest_on', 'latest-before-day', { day: cross.inseminate_on }));
  if (cross.latest_on !== null && cross.earliest_on !== null && cross.latest_on < cross.earliest_on)
    problems.push(refuse('cross.latest_on', 'wishes-contradict', { cross: cross.code }));
  return [...problems, ...(await codeProblem(facts, plan))];
}
