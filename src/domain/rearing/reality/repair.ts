import { leastWhere } from '#numeric/chance/binomial.ts';
import { addCounts, type CountChances, countAtLeast } from '#numeric/chance/count-chances.ts';
import { known } from '#numeric/chance/count-steps.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { queenShares, queensThrough } from '../chances/queen-losses.ts';
import type { Link, Readiness } from '../chances/readiness.ts';
import { chanceOfSemen, semenSupply } from '../chances/semen-supply.ts';
import type { BiologyProfile } from '../profile.ts';
import { type DayPlan, readinessOn, readyQueens } from './day-plan.ts';

/** A way to make a day ready again, with the plan it leads to. */
export type Repair = (
  | { kind: 'graft-more'; dam: string; larvae: number; on: Day; queenAge: number }
  | { kind: 'other-drones'; instead: string; mother: string }
  | { kind: 'move-day'; to: Day; days: number }
  | { kind: 'fewer-queens'; dam: string | null; queens: number; lost: number }
) & { cost: number; plan: DayPlan; readiness: Readiness };

/** What repairs cost, all in queens: what a breeder would give up to be spared the trouble. Shown and editable. */
export type RepairCosts = { graft: number; larva: number; otherDrones: number; dayMoved: number; queenLost: number };
export const usualCosts: RepairCosts = { graft: 0.3, larva: 0.02, otherDrones: 1, dayMoved: 0.4, queenLost: 1 };

/** What a repair may draw on. */
export type RepairMeans = {
  today: Day;
  profile: BiologyProfile;
  /** Chance each link is to have, 0.9 unless told. */
  sure?: number;
  /** Other drone mothers and what they have. */
  otherDrones?: readonly { mother: string; lots: readonly DroneLot[] }[];
  blockedDays?: readonly Day[];
  /** A starter stands ready today; else one must be made up first. */
  starterReady?: boolean;
  /** How far the day may be moved, later; 7 unless told. */
  mostDays?: number;
  costs?: RepairCosts;
};

const MOST_LARVAE = 120;
/** A day that suffices in fewer than one season of twenty is no way out. */
const WORTH_A_MOVE = 0.05;

const sureOf = ({ sure }: RepairMeans) => sure ?? 0.9;
const costsOf = ({ costs }: RepairMeans) => costs ?? usualCosts;
const isBlocked = (day: Day, { blockedDays }: RepairMeans) => blockedDays?.includes(day) ?? false;

/** Graft days still open for the day, those with the best queen age first. */
function openGraftDays(on: Day, profile: BiologyProfile, means: RepairMeans): { day: Day; age: number }[] {
  const { timings, queens, usual } = profile;
  const first = addDays(means.today, means.starterReady === true ? 0 : timings.starterLead.value);
  const days: { day: Day; age: number }[] = [];
  for (let age = queens.hard.from; age <= queens.hard.to; age++) {
    const day = addDays(on, -age - timings.graftToEmergence.value);
    const workable =
      day >= first && !isBlocked(day, means) && !isBlocked(addDays(day, timings.graftToRipe.value), means);
    if (workable) days.push({ day, age });
  }
  return days.sort((a, b) => Math.abs(a.age - usual.queenAge) - Math.abs(b.age - usual.queenAge));
}

function graftMore(plan: DayPlan, link: Link, means: RepairMeans): Repair[] {
  const need = plan.queens.find(({ dam }) => dam === link.mother);
  const own = need?.grafts[0]?.profile;
  const profile = own ?? means.profile;
  const [choice] = openGraftDays(plan.on, profile, means);
  if (need === undefined || choice === undefined) return [];
  const there = need.grafts
    .map((graft) => readyQueens(graft, plan.on, profile))
    .reduce<CountChances>(addCounts, known(0));
  const shares = queenShares(profile, { daysBefore: daysBetween(choice.day, plan.on), ages: profile.queens.hard });
  const enough = (larvae: number) =>
    countAtLeast(need.wanted, addCounts(there, queensThrough({ left: larvae, after: 'grafted' }, shares))) >=
    sureOf(means);
  const larvae = leastWhere(enough, 1, MOST_LARVAE);
  if (!Number.isFinite(larvae)) return [];
  const graft = {
    id: `more:${link.mother}:${choice.day}`,
    grafted: choice.day,
    count: { left: larvae, after: 'grafted' as const },
    ...(own === undefined ? {} : { profile: own }),
  };
  const queens = plan.queens.map((one) => (one === need ? { ...one, grafts: [...one.grafts, graft] } : one));
  const cost = costsOf(means).graft + costsOf(means).larva * larvae;
  const what = { kind: 'graft-more' as const, dam: link.mother, larvae, on: choice.day, queenAge: choice.age };
  return [finished(what, cost, { ...plan, queens }, means)];
}

function otherDrones(plan: DayPlan, link: Link, means: RepairMeans): Repair[] {
  const used = new Set(plan.drones.map(({ mother }) => mother));
  return (means.otherDrones ?? [])
    .filter(({ mother }) => !used.has(mother))
    .filter(
      ({ lots }) =>
        chanceOfSemen(link.wanted, semenSupply({ lots, on: plan.on, profile: means.profile })) > link.chance,
    )
    .map(({ mother, lots }) => {
      const drones = plan.drones.map((one) => (one.mother === link.mother ? { ...one, mother, lots } : one));
      const what = { kind: 'other-drones' as const, instead: link.mother, mother };
      return finished(what, costsOf(means).otherDrones, { ...plan, drones }, means);
    });
}

function moveDay(plan: DayPlan, means: RepairMeans): Repair[] {
  const repairs: Repair[] = [];
  for (let days = 1; days <= (means.mostDays ?? 7); days++) {
    const to = addDays(plan.on, days);
    if (isBlocked(to, means) || isBlocked(addDays(to, -1), means) || to < means.today) continue;
    const what = { kind: 'move-day' as const, to, days };
    repairs.push(finished(what, days * costsOf(means).dayMoved, { ...plan, on: to }, means));
  }
  return repairs;
}

/** The most queens, below what is wanted, that a link carries surely; its µl fall with them. */
function fewerQueens(plan: DayPlan, link: Link, means: RepairMeans): Repair[] {
  const sure = sureOf(means);
  const wanted = plan.queens.reduce((sum, need) => sum + need.wanted, 0);
  const scaledTo = (queens: number): DayPlan =>
    link.side === 'queens'
      ? { ...plan, queens: plan.queens.map((one) => (one.dam === link.mother ? { ...one, wanted: queens } : one)) }
      : {
          ...plan,
          drones: plan.drones.map((one) =>
            one.mother === link.mother ? { ...one, microlitres: (one.microlitres * queens) / wanted } : one,
          ),
        };
  const most = link.side === 'queens' ? link.wanted : wanted;
  const holds = (queens: number) => linkIn(readinessOn(scaledTo(queens), means.profile), link).chance >= sure;
  for (let queens = most - 1; queens >= 1; queens--) {
    if (!holds(queens)) continue;
    const dam = link.side === 'queens' ? link.mother : null;
    const what = { kind: 'fewer-queens' as const, dam, queens, lost: most - queens };
    return [finished(what, (most - queens) * costsOf(means).queenLost, scaledTo(queens), means)];
  }
  return [];
}

function linkIn({ links }: Readiness, { side, mother }: Link): Link {
  const found = links.find((one) => one.side === side && one.mother === mother);
  if (found === undefined) throw new RangeError(`no link of ${mother}`);
  return found;
}

/** What a repair does, without what it leads to. */
type Doing = Repair extends infer R ? (R extends Repair ? Omit<R, 'cost' | 'plan' | 'readiness'> : never) : never;

const finished = (what: Doing, cost: number, plan: DayPlan, means: RepairMeans): Repair =>
  ({ ...what, cost, plan, readiness: readinessOn(plan, means.profile) }) as Repair;

/** Whether every link of a day is as sure as wished. */
export const isReady = ({ links }: Readiness, sure = 0.9): boolean => links.every(({ chance }) => chance >= sure);

/**
 * Ways to mend the weakest link of a day, the cheapest that makes the link sure first, then the others by the chance they bring. Empty when the day is ready
 * already, or nothing helps. Costs are in queens.
 */
export function repairsFor(plan: DayPlan, means: RepairMeans): Repair[] {
  const before = readinessOn(plan, means.profile);
  const { weakest } = before;
  if (weakest === null || isReady(before, sureOf(means))) return [];
  const found = [
    ...(weakest.side === 'queens' ? graftMore(plan, weakest, means) : otherDrones(plan, weakest, means)),
    ...moveDay(plan, means).filter(({ readiness: { chance } }) => chance >= WORTH_A_MOVE && chance > before.chance),
    ...fewerQueens(plan, weakest, means),
  ];
  const mends = (repair: Repair) => {
    const mother = repair.kind === 'other-drones' ? repair.mother : weakest.mother;
    return linkIn(repair.readiness, { ...weakest, mother }).chance >= sureOf(means);
  };
  return found.sort(
    (a, b) =>
      Number(mends(b)) - Number(mends(a)) ||
      (mends(a) ? a.cost - b.cost : b.readiness.chance - a.readiness.chance || a.cost - b.cost),
  );
}

/** As many repairs as it has links that can be mended one after the other. */
const MOST_STEPS = 8;

/** The cheapest repairs one after the other until every link is sure or nothing helps any more. */
export function cheapestRepair(plan: DayPlan, means: RepairMeans): Repair[] {
  const steps: Repair[] = [];
  let now = plan;
  for (let step = 0; step < MOST_STEPS; step++) {
    const [cheapest] = repairsFor(now, means);
    if (cheapest === undefined) break;
    steps.push(cheapest);
    now = cheapest.plan;
  }
  return steps;
}
