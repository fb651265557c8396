import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { GraftCount } from '#domain/rearing/chances/queen-losses.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { GraftState } from '#domain/rearing/reality/day-plan.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { combDays, graftDays } from './raised.ts';

/**
 * A drone comb as chances count it, as far as it was counted: drones seen alive, drones that emerged, laid cells, else the cells of a full comb. `null` where no
 * day of it is written down.
 */
export function lotOf(comb: Row<'drone_comb'>, profile: BiologyProfile): DroneLot | null {
  const days = combDays(comb, profile);
  if (days === null) return null;
  const { laid, emerged } = days;
  const out = { emergedFrom: emerged.from, emergedTo: emerged.to };
  if (comb.alive_count !== null && comb.alive_on !== null)
    return { counted: 'alive', count: comb.alive_count, on: comb.alive_on, ...out };
  if (comb.emerged_count !== null) return { counted: 'emerged', count: comb.emerged_count, ...out };
  const eggs = { laidFrom: laid.from, laidTo: laid.to };
  if (comb.laid_cells !== null) return { counted: 'laid', count: comb.laid_cells, ...eggs };
  return { counted: 'cells', count: Math.round(profile.yields.cellsPerComb.value), ...eggs };
}

/** The cells of a bar, and the queens out of them who are gone by now. */
export type BarCells = { cells: readonly Row<'graft_cell'>[]; gone: ReadonlySet<RecordId> };

/** How many of a bar are left, and after which step: the latest that was counted. Emergence is over two days after its last day. */
function countOf(
  graft: Row<'graft'>,
  { cells, gone }: BarCells,
  { last, today }: { last: Day; today: Day },
): GraftCount {
  const living = cells.filter(({ lost, given_to }) => lost !== 1 && given_to === null);
  const emerged = living.filter(({ emerged_on }) => emerged_on !== null);
  const accepted = living.filter(({ accepted, emerged_on }) => accepted === 1 || emerged_on !== null);
  const isOver = emerged.length > 0 && (emerged.length === accepted.length || today > addDays(last, 2));
  if (isOver) return { left: emerged.filter(({ id }) => !gone.has(id)).length, after: 'emerged' };
  if (cells.some((cell) => cell.accepted !== null)) return { left: accepted.length, after: 'accepted' };
  return { left: graft.larvae ?? cells.length, after: 'grafted' };
}

/** A bar as chances count it. */
export function graftStateOf(
  graft: Row<'graft'>,
  bar: BarCells,
  { profile, today }: { profile: BiologyProfile; today: Day },
): GraftState {
  const { emerged } = graftDays(graft, bar.cells, profile);
  const last = addDays(graft.day, profile.timings.graftToEmergence.high);
  const count = countOf(graft, bar, { last, today });
  const state = { id: graft.id, grafted: graft.day, count };
  return count.after === 'emerged' ? { ...state, emerged: emerged.from } : state;
}
