import { z } from 'zod';
import { larvaeNeeded, lossesStairs, queenShares, type Stair } from '#domain/rearing/chances/queen-losses.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import type { Instead } from '#domain/rearing/reality/what-instead.ts';
import type { Task } from '#domain/rearing/task.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { crossReads, profileOf, wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { addDays } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import { type CrossCount, countQueens, crossQueenReads, gatherCrossQueens } from '../crosses/cross-queens.ts';
import { type Question, question } from '../mechanism/question.ts';
import { facedQueens, faceReads } from '../stock/queen-faces.ts';
import { gatherTaskLines, taskReads } from '../today/gather-tasks.ts';
import type { TaskLine } from '../today/task-line.ts';
import { gatherInstead } from './gather-instead.ts';
import type { BarLine } from './gather-raised.ts';
import type { Raising } from './lanes.ts';
import { planWarnings, standing } from './plan-warnings.ts';
import { raisingReader, raisingReads } from './raising-of-cross.ts';

const input = z.strictObject({ cross: idShape, today: dayShape });

/** Steps from larva to laying queen, as counted so far (`null`: not counted yet). */
export type LossesCounted = {
  grafted: number | null;
  accepted: number | null;
  emerged: number | null;
  inseminated: number | null;
  laying: number | null;
};

/** Everything the countback page of a cross shows. */
export type Countback = {
  cross: Row<'cross'>;
  /** `null` while the cross has no day. */
  wish: Wish | null;
  tasks: TaskLine[];
  raising: Raising;
  warnings: Problem[];
  /** What can be done about it where its day is too near. */
  instead: Instead | null;
  /** Its open tasks were counted with other times than hold for it now. */
  stale: boolean;
  /** Larvae to graft so that the wanted queens are ready nine times in ten, and what is then expected at each step. */
  larvae: number | null;
  planned: Stair[];
  counted: LossesCounted;
};

type Gathered = Omit<Countback, 'larvae' | 'planned'>;

/** Tasks nothing has moved yet but the count itself: where one of them stands elsewhere, the times have changed since. */
const BEGINNINGS: ReadonlySet<string> = new Set(['drone-comb-in', 'starter', 'graft', 'nucs-ready']);

function isStale(wish: Wish | null, rows: readonly Row<'task'>[], isRaised: (key: string) => boolean): boolean {
  if (wish === null) return false;
  const counted = new Map<string, Task>(countBack(wish).map((task) => [task.key, task]));
  return rows.some((row) => {
    const task = counted.get(row.key);
    const isOpen = row.done_on === null && row.cancelled !== 1 && BEGINNINGS.has(row.key) && !isRaised(row.key);
    return isOpen && task !== undefined && addDays(task.from, row.by_hand ?? 0) !== row.span_from;
  });
}

function countedOf(bars: readonly BarLine[], count: CrossCount): LossesCounted {
  const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
  const accepted = bars.map(({ cells }) => cells.accepted);
  const emerged = sum(bars.map(({ cells }) => cells.emerged));
  return {
    grafted: bars.length === 0 ? null : sum(bars.map(({ cells }) => cells.grafted)),
    accepted: accepted.some((each) => each !== null) ? sum(accepted.map((each) => each ?? 0)) : null,
    emerged: emerged === 0 ? null : emerged,
    inseminated: count.inseminated === 0 ? null : count.inseminated,
    laying: count.known === 0 ? null : count.laying,
  };
}

function plannedLosses(wish: Wish): Pick<Countback, 'larvae' | 'planned'> {
  const { profile } = wish;
  const daysBefore = (wish.queenAge ?? profile.usual.queenAge) + profile.timings.graftToEmergence.value;
  const shares = queenShares(profile, { daysBefore, ages: profile.queens.hard });
  const larvae = larvaeNeeded(wish.queens, shares);
  if (!Number.isFinite(larvae)) return { larvae: null, planned: [] };
  return { larvae, planned: lossesStairs({ left: larvae, after: 'grafted' }, shares) };
}

/** Without tasks of its own that a planned bar or comb has in their place. */
const standingOnly = (tasks: TaskLine[]): TaskLine[] =>
  tasks.filter(
    ({ key, state }) =>
      state !== 'cancelled' || !tasks.some((other) => other.key === key && other.state !== 'cancelled'),
  );

/** One cross counted back: its tasks, the lanes of its drones and queens, how many to graft, what has become of them. */
export const countback: Question<z.infer<typeof input>, Gathered | null, Countback | null> = question({
  name: 'countback',
  what: 'One cross counted back from its insemination day: tasks, drone combs and bars, warnings, how many to graft.',
  input,
  reads: [...crossReads, ...taskReads, ...raisingReads, ...crossQueenReads, ...faceReads],
  async gather({ cross: id, today }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    const profiles = await gatherProfiles(facts);
    const wish = wishOf(cross, profiles);
    const profile = profileOf(cross, profiles);
    const dams = (await facts.find('cross_dam', { cross: id })).map(({ queen }) => queen);
    const sources = (await facts.find('cross_drone_source', { cross: id })).flatMap(
      (row) => row.queen ?? row.sister_group ?? row.line ?? [],
    );
    const { raising, mine, called } = await raisingReader(facts, today)({ cross: id, wish, profile, dams, sources });
    const { faced } = await facedQueens(facts, today);
    const queens = (await gatherCrossQueens(facts, { faced, today })).get(id) ?? [];
    const tasks = standingOnly(await gatherTaskLines(facts, { today, cross: id }));
    const done = new Set(tasks.filter(({ state }) => state === 'done').map(({ key }) => key));
    const isOpen = wish !== null && cross.cancelled !== 1;
    const there = { combs: mine.combs.length, bars: mine.bars.length, done };
    const warnings = isOpen ? standing(planWarnings(wish, today), there) : [];
    return {
      cross,
      wish,
      warnings,
      instead: isOpen ? await gatherInstead(facts, { cross, wish, today, called, warnings }) : null,
      stale: isStale(wish, await facts.find('task', { cross: id }), (key) =>
        key === 'drone-comb-in' ? mine.combs.length > 0 : mine.bars.length > 0,
      ),
      tasks,
      raising,
      counted: countedOf(
        mine.bars.filter((bar) => bar.cross === id),
        countQueens(queens),
      ),
    };
  },
  answer(gathered) {
    if (gathered === null) return null;
    const { wish } = gathered;
    return {
      ...gathered,
      ...(wish === null ? { larvae: null, planned: [] } : plannedLosses(wish)),
    };
  },
});
