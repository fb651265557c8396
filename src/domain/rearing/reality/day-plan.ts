import { addCounts, type CountChances, countQuantile } from '#numeric/chance/count-chances.ts';
import { known } from '#numeric/chance/count-steps.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { type GraftCount, type QueenStep, queenShares, queensThrough } from '../chances/queen-losses.ts';
import { type DroneNeed, type Link, type QueenNeed, type Readiness, readinessOf } from '../chances/readiness.ts';
import { semenDots, semenSupply } from '../chances/semen-supply.ts';
import type { BiologyProfile } from '../profile.ts';

/** A graft as far as it has come: larvae moved on a day, how many are left after which step, and when they emerged once they have. */
export type GraftState = {
  id: string;
  grafted: Day;
  count: GraftCount;
  emerged?: Day;
  /** Its own times and losses, where they are not those of the day. */
  profile?: BiologyProfile;
};

/** What one insemination day needs and has: the plan of a day, updated by what happened. */
export type DayPlan = {
  on: Day;
  queens: readonly { dam: string; wanted: number; grafts: readonly GraftState[] }[];
  drones: readonly { mother: string; microlitres: number; lots: readonly DroneLot[] }[];
};

/** Chances of how many queens of a graft are ready on the day. Emerged queens have an age; before that it is spread. */
export function readyQueens(graft: GraftState, on: Day, usual: BiologyProfile): CountChances {
  const profile = graft.profile ?? usual;
  const ages = profile.queens.hard;
  const shares = queenShares(profile, { daysBefore: daysBetween(graft.grafted, on), ages });
  if (graft.emerged === undefined) return queensThrough(graft.count, shares);
  const age = daysBetween(graft.emerged, on);
  const ofAge = { kind: 'point' as const, value: age >= ages.from && age <= ages.to ? 1 : 0 };
  return queensThrough(graft.count, { ...shares, 'of-age': ofAge });
}

/** What a day needs, with the chances of what it has (`laying`: of ready queens, those that then lay): worked out once for readiness, dots and means. */
export type DayNeeds = { queens: (QueenNeed & { laying: number })[]; drones: DroneNeed[] };

export function needsOn(plan: DayPlan, profile: BiologyProfile): DayNeeds {
  return {
    queens: plan.queens.map(({ dam, wanted, grafts }) => ({
      mother: dam,
      queens: wanted,
      grafts: grafts.map((graft) => readyQueens(graft, plan.on, profile)),
      laying: (grafts[0]?.profile ?? profile).survivals.layingQueens.value,
    })),
    drones: plan.drones.map(({ mother, microlitres, lots }) => ({
      mother,
      microlitres,
      supply: semenSupply({ lots, on: plan.on, profile }),
    })),
  };
}

/** Chances of how many queens of one mother are ready, all her bars together. */
export const readyTogether = ({ grafts }: QueenNeed): CountChances => grafts.reduce<CountChances>(addCounts, known(0));

/** Twenty equally likely outcomes of a link, lowest first: ready queens, or µl. */
export function linkDots({ side, mother }: Link, { queens, drones }: DayNeeds, dots = 20): number[] {
  if (side === 'drones') {
    const need = drones.find((one) => one.mother === mother);
    return need === undefined ? [] : semenDots(need.supply, dots);
  }
  const need = queens.find((one) => one.mother === mother);
  const ready = need === undefined ? known(0) : readyTogether(need);
  return Array.from({ length: dots }, (_, i) => countQuantile((i + 0.5) / dots, ready));
}

/** The readiness of a day as things stand. */
export function readinessOn(plan: DayPlan, profile: BiologyProfile): Readiness {
  const { queens, drones } = needsOn(plan, profile);
  return readinessOf(queens, drones);
}

/** One thing that happened, told of the graft or the mother it happened to. */
export type Happened =
  | { what: 'counted'; graft: string; after: QueenStep; left: number }
  | { what: 'emerged'; graft: string; on: Day; left: number }
  | { what: 'grafted-late'; graft: string; on: Day; larvae: number }
  | { what: 'drones'; mother: string; lots: readonly DroneLot[] };

function updateGraft(graft: GraftState, happened: Happened): GraftState {
  if (happened.what === 'drones' || happened.graft !== graft.id) return graft;
  if (happened.what === 'counted') return { ...graft, count: { left: happened.left, after: happened.after } };
  if (happened.what === 'emerged')
    return { ...graft, emerged: happened.on, count: { left: happened.left, after: 'emerged' } };
  return { ...graft, grafted: happened.on, count: { left: happened.larvae, after: 'grafted' } };
}

/** The plan after something happened ("14 of 20 accepted", "emerged a day early", "comb laid two days late"). What was not told of stays. */
export function afterwards(plan: DayPlan, happened: Happened): DayPlan {
  return {
    ...plan,
    queens: plan.queens.map((need) => ({ ...need, grafts: need.grafts.map((graft) => updateGraft(graft, happened)) })),
    drones: plan.drones.map((need) =>
      happened.what === 'drones' && happened.mother === need.mother ? { ...need, lots: happened.lots } : need,
    ),
  };
}
