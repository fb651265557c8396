import type { GraftCount } from '#domain/rearing/chances/queen-losses.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { GraftState } from '#domain/rearing/reality/day-plan.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherLate, reckonedOn } from './late-raising.ts';

/** The larvae of one dam on one bar, planned or grafted, as far as they have come. */
export type SeasonBar = {
  /** The planned bar, or the graft where it was never planned. */
  id: RecordId;
  dam: RecordId;
  planned: Row<'planned_graft'> | null;
  graft: Row<'graft'> | null;
  /** Its day is past and nobody wrote it down or ticked it: it is reckoned as grafted today. */
  late: boolean;
  state: GraftState;
  /** Cells accepted, where they were counted, and queens out. */
  accepted: number | null;
  emerged: number;
  /** Queens meant for each cross; empty where nobody said. */
  uses: ReadonlyMap<RecordId, number>;
};

type Cells = readonly Row<'graft_cell'>[];

/** Virgins of some cells who are gone since. */
type GoneVirgins = ReadonlySet<RecordId>;

function cellsOf(cells: Cells, ranges: readonly Row<'graft_range'>[]): Cells {
  return cells.filter(({ position }) =>
    ranges.some(({ position_from, position_to }) => position_from <= position && position <= position_to),
  );
}

type Counted = { count: GraftCount; emerged?: Day; accepted: number | null; out: number };

/** How far the cells of one dam on a bar have come: emerged once the day is over or all are out, else as accepted, else as grafted. */
function counted(cells: Cells, ranges: readonly Row<'graft_range'>[], gone: GoneVirgins, today: Day): Counted {
  const lost = cells.filter(({ lost: isLost }) => isLost === 1).length;
  const noted = ranges.reduce<number | null>(
    (sum, { accepted_count }) => (accepted_count === null ? sum : (sum ?? 0) + accepted_count),
    null,
  );
  const isCounted = cells.some(({ accepted }) => accepted !== null);
  const accepted = isCounted ? cells.filter((cell) => cell.accepted === 1).length : noted;
  const out = cells.filter(({ emerged_on }) => emerged_on !== null);
  const days = out.flatMap(({ emerged_on }) => emerged_on ?? []);
  const last = days.reduce<Day | null>((a, b) => (a === null ? b : laterOf(a, b)), null);
  const first = days.reduce<Day | null>((a, b) => (a === null ? b : earlierOf(a, b)), null);
  if (first !== null && last !== null && (last < today || out.length >= (accepted ?? cells.length) - lost)) {
    const left = out.filter(({ id, lost: isLost }) => isLost !== 1 && !gone.has(id)).length;
    return { count: { left, after: 'emerged' }, emerged: first, accepted, out: out.length };
  }
  if (accepted !== null)
    return { count: { left: Math.max(0, accepted - lost), after: 'accepted' }, accepted, out: out.length };
  return { count: { left: Math.max(0, cells.length - lost), after: 'grafted' }, accepted, out: out.length };
}

async function goneVirgins(facts: Facts): Promise<GoneVirgins> {
  const gone = new Set((await facts.find('fate')).map(({ queen }) => queen));
  return new Set((await facts.find('queen')).flatMap(({ id, cell }) => (cell !== null && gone.has(id) ? [cell] : [])));
}

type Uses = ReadonlyMap<RecordId, number>;

/** Every bar of the book and of the plan, one entry a dam; `ownOf` gives the times of what it is for, where they are not the usual ones. */
export async function gatherBars(
  facts: Facts,
  today: Day,
  ownOf: (uses: Uses) => BiologyProfile | undefined,
): Promise<SeasonBar[]> {
  const planned = (await facts.find('planned_graft')).filter(({ cancelled }) => cancelled !== 1);
  const uses = groupBy(await facts.find('planned_graft_use'), ({ planned_graft }) => planned_graft);
  const ranges = groupBy(await facts.find('graft_range'), ({ graft }) => graft);
  const cells = groupBy(await facts.find('graft_cell'), ({ graft }) => graft);
  const gone = await goneVirgins(facts);
  const late = await gatherLate(facts, today);
  const timesFor = (its: Uses) => {
    const profile = ownOf(its);
    return profile === undefined ? {} : { profile };
  };
  const usesOf = (id: RecordId) => new Map((uses.get(id) ?? []).map(({ cross, queens }) => [cross, queens]));
  const open = planned
    .filter(({ graft }) => graft === null)
    .map(
      (bar): SeasonBar => ({
        id: bar.id,
        dam: bar.dam,
        planned: bar,
        graft: null,
        late: late.has(bar.id),
        state: {
          id: bar.id,
          grafted: reckonedOn(bar.day, late.has(bar.id), today),
          count: { left: bar.larvae, after: 'grafted' },
          ...timesFor(usesOf(bar.id)),
        },
        accepted: null,
        emerged: 0,
        uses: usesOf(bar.id),
      }),
    );
  const grafted = (await facts.find('graft')).flatMap((graft): SeasonBar[] =>
    [...groupBy(ranges.get(graft.id) ?? [], ({ dam }) => dam)].map(([dam, its]) => {
      const plan = planned.find((bar) => bar.graft === graft.id && bar.dam === dam) ?? null;
      const id = plan?.id ?? graft.id;
      const { count, emerged, accepted, out } = counted(cellsOf(cells.get(graft.id) ?? [], its), its, gone, today);
      const own = graft.cross === null ? new Map<RecordId, number>() : new Map([[graft.cross, 0]]);
      const served = plan === null ? own : usesOf(plan.id);
      return {
        id,
        dam,
        planned: plan,
        graft,
        late: false,
        state: { id, grafted: graft.day, count, ...(emerged === undefined ? {} : { emerged }), ...timesFor(served) },
        accepted,
        emerged: out,
        uses: served,
      };
    }),
  );
  return [...grafted, ...open];
}

/** A bar that is late, as if it had been grafted on the day it was planned for. */
export const barAsPlanned = (bar: SeasonBar): SeasonBar =>
  bar.late && bar.planned !== null ? { ...bar, state: { ...bar.state, grafted: bar.planned.day } } : bar;
