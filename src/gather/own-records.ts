import type { OwnRecords } from '#domain/rearing/own-records.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherOutcomes, outcomeReads } from './outcomes.ts';

export const ownRecordReads = [
  ...outcomeReads,
  'graft',
  'graft_cell',
  'queen',
  'fate',
  'drone_comb',
  'drone_catch',
  'ledger_line',
] as const satisfies readonly KindName[];

type Tally = { successes: number; trials: number };
type Cells = readonly Row<'graft_cell'>[];

/** Days after the graft by which every cell has emerged that will. */
const EMERGED_BY = 15;

const isAccepted = ({ accepted, emerged_on }: Row<'graft_cell'>) => accepted === 1 || emerged_on !== null;

/** Accepted of grafted, where it was counted. */
function acceptedOf(graft: Row<'graft'>, cells: Cells): Tally[] {
  if (!cells.some(({ accepted }) => accepted !== null)) return [];
  return [{ successes: cells.filter(isAccepted).length, trials: graft.larvae ?? cells.length }];
}

/** Emerged of accepted, once emergence is over and was written down; cells given away are left out. */
function emergedOf(graft: Row<'graft'>, cells: Cells, today: Day): Tally[] {
  const emerged = cells.filter(({ emerged_on }) => emerged_on !== null).length;
  if (emerged === 0 || addDays(graft.day, EMERGED_BY) > today) return [];
  const accepted = cells.filter((cell) => isAccepted(cell) && (cell.given_to === null || cell.emerged_on !== null));
  return [{ successes: emerged, trials: accepted.length }];
}

type Virgins = {
  byCell: ReadonlyMap<RecordId, RecordId>;
  inseminated: ReadonlySet<RecordId>;
  lost: ReadonlySet<RecordId>;
};

/** Inseminated of those inseminated or lost before it. Virgins not needed, sold or given away say nothing and are left out. */
function readyOf(cells: Cells, { byCell, inseminated, lost }: Virgins): Tally[] {
  const queens = cells.flatMap(({ id }) => byCell.get(id) ?? []);
  const done = queens.filter((queen) => inseminated.has(queen)).length;
  if (done === 0) return [];
  return [
    { successes: done, trials: done + queens.filter((queen) => !inseminated.has(queen) && lost.has(queen)).length },
  ];
}

async function ofBars(facts: Facts, today: Day) {
  const cells = groupBy(await facts.find('graft_cell'), ({ graft }) => graft);
  const grafts = await facts.find('graft');
  const queens = await facts.find('queen');
  const virgins: Virgins = {
    byCell: new Map(queens.flatMap(({ id, cell }) => (cell === null ? [] : [[cell, id] as const]))),
    inseminated: new Set((await facts.find('insemination', { done: 1 })).map(({ queen }) => queen)),
    lost: new Set((await facts.find('fate', { kind: ['died', 'lost'] })).map(({ queen }) => queen)),
  };
  const each = grafts.map((graft) => ({ graft, own: cells.get(graft.id) ?? [] }));
  return {
    accepted: each.flatMap(({ graft, own }) => acceptedOf(graft, own)),
    emerged: each.flatMap(({ graft, own }) => emergedOf(graft, own, today)),
    ready: each.flatMap(({ own }) => readyOf(own, virgins)),
    days: each.flatMap(({ graft, own }) =>
      own.flatMap(({ emerged_on }) => (emerged_on === null ? [] : [daysBetween(graft.day, emerged_on)])),
    ),
  };
}

/** Below this age a count of living drones says little of the daily loss. */
const LEAST_AGE = 5;

/** Alive at 14 days of those that emerged, from drones counted alive at another age: the same loss every day. */
function aliveAtFourteen({
  emerged_count,
  emerged_from,
  emerged_to,
  alive_count,
  alive_on,
}: Row<'drone_comb'>): Tally[] {
  if (emerged_count === null || emerged_from === null || alive_count === null || alive_on === null) return [];
  const age = (daysBetween(emerged_from, alive_on) + daysBetween(emerged_to ?? emerged_from, alive_on)) / 2;
  if (age < LEAST_AGE || emerged_count === 0 || alive_count > emerged_count) return [];
  return [
    { successes: Math.round(emerged_count * (alive_count / emerged_count) ** (14 / age)), trials: emerged_count },
  ];
}

async function ofCombs(facts: Facts) {
  const combs = await facts.find('drone_comb');
  return {
    emerged: combs.flatMap(({ laid_cells, emerged_count }): Tally[] =>
      laid_cells === null || emerged_count === null || emerged_count > laid_cells
        ? []
        : [{ successes: emerged_count, trials: laid_cells }],
    ),
    alive: combs.flatMap(aliveAtFourteen),
    lead: combs.flatMap(({ in_on, laid_from }) =>
      in_on === null || laid_from === null || laid_from < in_on ? [] : [daysBetween(in_on, laid_from)],
    ),
  };
}

async function ofCatches(facts: Facts) {
  const filled = groupBy(await facts.find('ledger_line', { step: 'collected' }), (line) => line.catch);
  const catches = await facts.find('drone_catch');
  const tried = ({ taken, left_over }: Row<'drone_catch'>) => (taken === null ? null : taken - (left_over ?? 0));
  return {
    yielding: catches.flatMap((each): Tally[] => {
      const trials = tried(each);
      if (trials === null || each.left_over === null || each.gave === null || each.gave > trials) return [];
      return [{ successes: each.gave, trials }];
    }),
    volumes: catches.flatMap(({ id, gave }) => {
      const microlitres = (filled.get(id) ?? []).reduce((sum, { volume_ul }) => sum + (volume_ul ?? 0), 0);
      return gave === null || gave === 0 || microlitres === 0 ? [] : [{ mean: microlitres / gave, of: gave }];
    }),
  };
}

/** Laying of those whose story is known, by insemination day. */
async function layingOf(facts: Facts, today: Day): Promise<Tally[]> {
  const known = (await gatherOutcomes(facts, today)).filter(({ laying }) => laying !== null);
  return [...groupBy(known, ({ inseminated }) => inseminated).values()].map((day) => ({
    successes: day.filter(({ laying }) => laying === true).length,
    trials: day.length,
  }));
}

/** What the book's own bars, combs, catches and queens say of the figures of a profile. */
export async function gatherOwnRecords(facts: Facts, today: Day): Promise<OwnRecords> {
  const bars = await ofBars(facts, today);
  const combs = await ofCombs(facts);
  const catches = await ofCatches(facts);
  return {
    shares: {
      'survivals.accepted': bars.accepted,
      'survivals.emergedQueens': bars.emerged,
      'survivals.readyQueens': bars.ready,
      'survivals.layingQueens': await layingOf(facts, today),
      'survivals.emergedDrones': combs.emerged,
      'survivals.dronesAtFourteen': combs.alive,
      'survivals.yielding': catches.yielding,
    },
    sizes: { 'yields.perDrone': catches.volumes },
    days: { 'timings.graftToEmergence': bars.days, 'timings.combLead': combs.lead },
  };
}
