import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { gatherLate, reckonedOn } from './late-raising.ts';
import { lotOf } from './lots.ts';

/** Drones of one mother from one comb, planned or hung in, as far as they were counted. */
export type SeasonComb = {
  id: RecordId;
  /** The mother, and the line and sister group she may stand in for. */
  mothers: readonly RecordId[];
  planned: Row<'planned_comb'> | null;
  comb: Row<'drone_comb'> | null;
  /** Its day is past and nobody wrote it down or ticked it: it is reckoned as hung in today. */
  late: boolean;
  lot: DroneLot;
  /** Combs the lot is. */
  combs: number;
  /** Combs meant for each cross; empty where nobody said. */
  uses: ReadonlyMap<RecordId, number>;
};

function plannedLot({ in_on, combs }: Pick<Row<'planned_comb'>, 'in_on' | 'combs'>, profile: BiologyProfile): DroneLot {
  const laidFrom = addDays(in_on, profile.timings.combLead.value);
  const { from, to } = profile.usual.droneAge;
  const count = Math.round(combs * profile.yields.cellsPerComb.value);
  return { counted: 'cells', count, laidFrom, laidTo: addDays(laidFrom, to - from) };
}

const withTimes = (lot: DroneLot, profile: BiologyProfile | undefined): DroneLot =>
  profile === undefined ? lot : { ...lot, profile };

/** How combs are read: by which times, and as they stand on which day. */
export type CombTimes = {
  today: Day;
  usual: BiologyProfile;
  /** The times of what a comb is for, where they are not the usual ones. */
  ownOf?: (uses: ReadonlyMap<RecordId, number>) => BiologyProfile | undefined;
};

/** Every drone comb of the book and of the plan, by the times of what it is for (`ownOf`), else by `usual`. Of several combs planned as one, those not written down yet are still to come. */
export async function gatherCombs(
  facts: Facts,
  { today, usual, ownOf = () => undefined }: CombTimes,
): Promise<SeasonComb[]> {
  const late = await gatherLate(facts, today);
  const planned = (await facts.find('planned_comb')).filter(({ cancelled }) => cancelled !== 1);
  const uses = groupBy(await facts.find('planned_comb_use'), ({ planned_comb }) => planned_comb);
  const usesOf = (id: RecordId, part: number) =>
    new Map((uses.get(id) ?? []).map(({ cross, combs }) => [cross, (combs ?? 0) * part]));
  const queens = new Map((await facts.find('queen')).map((queen) => [queen.id, queen]));
  const standsFor = (id: RecordId | null): RecordId[] => {
    const queen = id === null ? undefined : queens.get(id);
    return [id, queen?.line ?? null, queen?.sister_group ?? null].flatMap((one) => one ?? []);
  };
  const hung = (await facts.find('drone_comb')).flatMap((comb): SeasonComb[] => {
    const plan = planned.find(({ drone_comb }) => drone_comb === comb.id) ?? null;
    const own = comb.cross === null ? new Map<RecordId, number>() : new Map([[comb.cross, 1]]);
    const served = plan === null ? own : usesOf(plan.id, 1 / Math.max(1, plan.combs));
    const profile = ownOf(served);
    const lot = lotOf(comb, profile ?? usual);
    if (lot === null) return [];
    return [
      {
        id: plan?.id ?? comb.id,
        mothers: standsFor(comb.mother),
        planned: plan,
        comb,
        late: false,
        lot: withTimes(lot, profile),
        combs: 1,
        uses: served,
      },
    ];
  });
  const toCome = planned.flatMap((plan): SeasonComb[] => {
    const left = plan.combs - (plan.drone_comb === null ? 0 : 1);
    if (left <= 0) return [];
    const served = usesOf(plan.id, left / plan.combs);
    const profile = ownOf(served);
    const named = plan.mother ?? plan.sister_group ?? plan.line;
    return [
      {
        id: plan.id,
        mothers: plan.mother === null ? (named === null ? [] : [named]) : standsFor(plan.mother),
        planned: plan,
        comb: null,
        late: late.has(plan.id),
        lot: withTimes(
          plannedLot({ in_on: reckonedOn(plan.in_on, late.has(plan.id), today), combs: left }, profile ?? usual),
          profile,
        ),
        combs: left,
        uses: served,
      },
    ];
  });
  return [...hung, ...toCome];
}

/** The same comb so many days later, as far as its eggs are still to be laid. */
export const combLater = (comb: SeasonComb, days: number): SeasonComb =>
  'laidFrom' in comb.lot && days !== 0
    ? {
        ...comb,
        lot: { ...comb.lot, laidFrom: addDays(comb.lot.laidFrom, days), laidTo: addDays(comb.lot.laidTo, days) },
      }
    : comb;

/** Days a comb of the plan is late on a day. */
export const combLateBy = ({ late, planned }: SeasonComb, today: Day): number =>
  late && planned !== null ? daysBetween(planned.in_on, today) : 0;

/** A comb that is late, as if it had been hung in on the day it was planned for. */
export const combAsPlanned = (comb: SeasonComb, today: Day): SeasonComb => combLater(comb, -combLateBy(comb, today));

/** What of a lot is promised to none of some crosses. */
function unpromised({ lot, uses, combs }: SeasonComb, to: ReadonlySet<RecordId>): DroneLot {
  const given = [...uses].reduce((sum, [cross, part]) => sum + (to.has(cross) ? part : 0), 0);
  return { ...lot, count: Math.round(lot.count * Math.max(0, 1 - given / combs)) };
}

/** Drones of combs that hang, of every mother of the book, as lots; without those promised to the crosses `promised`. */
export function lotsByMother(
  combs: readonly SeasonComb[],
  promised: ReadonlySet<RecordId> = new Set(),
): { mother: RecordId; lots: DroneLot[] }[] {
  const hung = combs.flatMap((one) => {
    const [mother] = one.mothers;
    const lot = unpromised(one, promised);
    return mother === undefined || one.comb === null || lot.count === 0 ? [] : [{ mother, lot }];
  });
  return [...groupBy(hung, ({ mother }) => mother)].map(([mother, lots]) => ({
    mother,
    lots: lots.map(({ lot }) => lot),
  }));
}
