import { z } from 'zod';
import { wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action, type Circumstances, type Written } from '../mechanism/action.ts';
import { creating, dropping, setting } from '../mechanism/recording.ts';
import { tasksFor } from '../rearing/cross-tasks.ts';
import { raisingAlong } from '../rearing/season/raising-along.ts';
import { isBarred, newProblems, planProblems } from './check-plan.ts';
import { crossShape, namedBy, type Plan, sourceShape, standInShape, thereShape } from './plan.ts';
import { readPlan, type WrittenPlan } from './read-plan.ts';

const input = z.strictObject({
  cross: idShape,
  set: crossShape.partial().optional(),
  dams: z.array(idShape).max(100).optional(),
  drone_sources: z.array(sourceShape).max(100).optional(),
  stand_ins: z.array(standInShape).max(100).optional(),
  ...thereShape,
});
type Input = z.infer<typeof input>;

const withoutUndefined = (fields: object) =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));

function changedPlan(plan: Plan, given: Input): Plan {
  return {
    ...plan,
    cross: { ...plan.cross, ...withoutUndefined(given.set ?? {}) },
    dams: given.dams ?? plan.dams,
    sources: given.drone_sources ?? plan.sources,
    standIns: given.stand_ins ?? plan.standIns,
    dronesThere: given.drones_there ?? false,
    virginsThere: given.virgins_there ?? false,
  };
}

const changedFields = (before: Plan['cross'], after: Plan['cross']) =>
  Object.fromEntries(Object.entries(after).filter(([field, value]) => before[field as keyof Plan['cross']] !== value));

function damChanges(rows: readonly Row<'cross_dam'>[], { dams }: Plan, id: Row<'cross'>['id'], made: MakeId): Change[] {
  const known = new Set(rows.map(({ queen }) => queen));
  return [
    ...rows.filter(({ queen }) => !dams.includes(queen)).map((row) => dropping('cross_dam', row.id)),
    ...dams
      .filter((queen) => !known.has(queen))
      .map((queen) => creating('cross_dam', made.newId(), { cross: id, queen })),
  ];
}

type MakeId = Pick<Circumstances, 'newId'>;

function sourceChanges({ sources: rows, row }: WrittenPlan, { sources }: Plan, { newId }: MakeId): Change[] {
  const byName = new Map(rows.map((each) => [namedBy(each), each]));
  const kept = new Set(sources.map(namedBy));
  return [
    ...rows.filter((each) => !kept.has(namedBy(each))).map(({ id }) => dropping('cross_drone_source', id)),
    ...sources.flatMap((source): Change[] => {
      const known = byName.get(namedBy(source));
      const share = source.share ?? null;
      if (known === undefined) return [creating('cross_drone_source', newId(), { cross: row.id, ...source })];
      return known.share === share ? [] : [setting('cross_drone_source', known.id, { share })];
    }),
  ];
}

function standInChanges({ standIns: rows, row }: WrittenPlan, { standIns }: Plan, { newId }: MakeId): Change[] {
  const key = ({ queen, side }: { queen: string; side: string }) => `${side} ${queen}`;
  const known = new Set(rows.map(key));
  const kept = new Set(standIns.map(key));
  return [
    ...rows.filter((each) => !kept.has(key(each))).map(({ id }) => dropping('cross_stand_in', id)),
    ...standIns
      .filter((each) => !known.has(key(each)))
      .map((each) => creating('cross_stand_in', newId(), { cross: row.id, ...each })),
  ];
}

/** The changes that make a written plan another one, with its tasks and what is planned to be raised for it alone. */
async function rewrite(written: WrittenPlan, after: Plan, circumstances: Circumstances): Promise<Change[]> {
  const { id } = written.row;
  const set = changedFields(written.plan.cross, after.cross);
  const profiles = await gatherProfiles(circumstances.book);
  const wishes = { before: wishOf(written.plan.cross, profiles), after: wishOf(after.cross, profiles) };
  return [
    ...(Object.keys(set).length > 0 ? [setting('cross', id, set)] : []),
    ...damChanges(written.dams, after, id, circumstances),
    ...sourceChanges(written, after, circumstances),
    ...standInChanges(written, after, circumstances),
    ...(await raisingAlong(id, wishes, circumstances)),
    ...(await tasksFor(after, id, circumstances)),
  ];
}

const refusedBy = (problems: Problem[]): Written<{ id: never }> => ({
  changes: [],
  result: { id: null as never },
  problems,
});

/** Changes a plan. When its day or ages move, its tasks and the bars and combs planned for it alone move with them in the same act; what is done stays. */
export const changeCross = action({
  name: 'change-cross',
  place: 'crosses',
  what: 'Change a planned cross; tasks, bars and combs that are not done move with its day.',
  input,
  async run(given, circumstances): Promise<Written<{ id: Row<'cross'>['id'] }>> {
    const { book } = circumstances;
    const written = await readPlan(book, given.cross);
    if (written === null) return refusedBy([refuse('cross', 'unknown-record', { kind: 'cross', id: given.cross })]);
    if (written.row.cancelled === 1) return refusedBy([refuse('cross', 'cross-cancelled', { code: written.row.code })]);
    const after = changedPlan(written.plan, given);
    const before = await planProblems(book, written.plan, circumstances);
    const problems = newProblems(before, await planProblems(book, after, circumstances));
    if (isBarred(problems, circumstances)) return refusedBy(problems);
    return { changes: await rewrite(written, after, circumstances), result: { id: given.cross }, problems };
  },
});
