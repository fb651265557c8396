import { addDays, type Day, daysBetween, laterOf } from '#units/calendar-day.ts';
import type { AgeWindow, BiologyProfile } from './profile.ts';
import type { Task, TaskKey } from './task.ts';
import { refusalsOf, type Wish } from './wish.ts';

/** A wish with nothing left open: what the dates are counted from. */
type Settled = {
  on: Day;
  queens: number;
  queenAge: number;
  droneAge: AgeWindow;
  doses: 1 | 2;
  holdDays: number;
  firstCo2: boolean;
  eggsSeen: Day | undefined;
  profile: BiologyProfile;
};

function settle(wish: Wish): Settled {
  const doses = wish.doses ?? 1;
  return {
    on: wish.inseminate,
    queens: wish.queens,
    queenAge: wish.queenAge ?? wish.profile.usual.queenAge,
    droneAge: wish.droneAge ?? wish.profile.usual.droneAge,
    doses,
    holdDays: wish.holdDays ?? wish.profile.usual.holdDays,
    firstCo2: wish.firstCo2 ?? doses === 1,
    eggsSeen: wish.eggsSeen,
    profile: wish.profile,
  };
}

type Span = { from: number; to?: number; values?: Record<string, number> };

/** A task from days counted from insemination day (0), negative before it. */
function due(plan: Settled, key: TaskKey, span: Span): Task {
  const from = addDays(plan.on, span.from);
  const to = addDays(plan.on, span.to ?? span.from);
  return { key, day: from, from, to, values: { fromI: span.from, queens: plan.queens, ...span.values } };
}

/**
 * The day eggs are looked for: late enough to see them (two days after laying can begin), or later, the last day a failed
 * comb can still be replaced so that eggs come in time (five days before the last useful egg). Never after that egg.
 */
function eggCheckAt(firstEgg: number, lastEgg: number): number {
  return Math.min(lastEgg, Math.max(firstEgg + 2, lastEgg - 5));
}

function droneTasks(plan: Settled): Task[] {
  const { timings } = plan.profile;
  const { from: youngest, to: oldest } = plan.droneAge;
  const firstEgg = -oldest - timings.droneEggToEmergence.value;
  const lastEgg = -youngest - timings.droneEggToEmergence.value;
  return [
    due(plan, 'drone-comb-in', { from: firstEgg - timings.combLead.value }),
    due(plan, 'drone-eggs', { from: firstEgg, to: lastEgg }),
    due(plan, 'drone-egg-check', { from: eggCheckAt(firstEgg, lastEgg) }),
    due(plan, 'drone-brood-out', { from: -oldest - 1 }),
    due(plan, 'drones-emerge', { from: -oldest, to: -youngest }),
  ];
}

function queenTasks(plan: Settled): Task[] {
  const { timings } = plan.profile;
  const graft = -plan.queenAge - timings.graftToEmergence.value;
  const earliest = graft + timings.graftToEmergence.low;
  const latest = graft + timings.graftToEmergence.high;
  return [
    due(plan, 'starter', { from: graft - timings.starterLead.value }),
    due(plan, 'graft', { from: graft }),
    due(plan, 'nucs-ready', { from: graft + timings.graftToRipe.value - 1 }),
    due(plan, 'cells-out', { from: graft + timings.graftToRipe.value }),
    due(plan, 'virgins-emerge', { from: -plan.queenAge, values: { earliest, latest } }),
  ];
}

function benchTasks(plan: Settled): Task[] {
  const lastDose = plan.doses === 2 ? 2 : 0;
  const release = lastDose + plan.holdDays;
  return [
    // Ten drones of each mother are everted while there is still a day to fetch more, or another mother's: common practice.
    due(plan, 'trial-eversion', { from: -2 }),
    ...(plan.firstCo2 ? [due(plan, 'first-co2', { from: -1 })] : []),
    due(plan, 'inseminate', { from: 0 }),
    ...(plan.doses === 2 ? [due(plan, 'second-dose', { from: 2 })] : []),
    due(plan, 'release', { from: release }),
    // Semen takes about 40 hours to migrate, so nobody looks before I+2; held longer, on the day she is let out.
    due(plan, 'release-check', { from: Math.max(2, release) }),
  ];
}

/** Before eggs are seen they are looked for on I+7, I+10 and I+14. */
function checksFromInsemination(plan: Settled): Task[] {
  const worker = plan.profile.timings.workerEggToEmergence.value;
  return [
    due(plan, 'egg-check', { from: 7 }),
    due(plan, 'egg-check-2', { from: 10 }),
    due(plan, 'egg-check-3', { from: 14 }),
    due(plan, 'excluder-off', { from: 7, to: 14 }),
    due(plan, 'brood-check', { from: 21 }),
    due(plan, 'own-workers', { from: 5 + worker, to: 14 + worker }),
  ];
}

/** Worker and drone caps can both be told from the day after the slower of the two is sealed. */
const capsFrom = ({ timings }: BiologyProfile) =>
  Math.max(timings.workerEggToSealed.value, timings.droneEggToSealed.value) + 1;

/** Once eggs are seen: the checks already made stay, the excluder comes off that day, all else counts from the eggs. */
function checksFromEggs(plan: Settled, eggs: Day): Task[] {
  const laid = daysBetween(plan.on, eggs);
  const before = checksFromInsemination(plan).filter(({ key, day }) => key.startsWith('egg-check') && day <= eggs);
  return [
    ...before,
    due(plan, 'excluder-off', { from: laid }),
    due(plan, 'brood-check', { from: laid + capsFrom(plan.profile) }),
    due(plan, 'own-workers', { from: laid + plan.profile.timings.workerEggToEmergence.value }),
  ];
}

/**
 * Every task of one cross counted back (and on) from its insemination day I, in the order of the contract.
 *
 * Graft = I − queen age − 12; virgins emerge I − queen age; useful drone eggs I − oldest − 24 … I − youngest − 24; first
 * carbon dioxide I − 1. Development times come from the profile (stage tables, see standard-text.ts); the days of the checks are
 * common practice. Calendar days only: no clock, zone or clock change can move one.
 *
 * Throws when the wish is impossible: ask {@link refusalsOf} first.
 * @example countBack({ inseminate: day('2027-06-12'), queens: 12, profile: standardText })[6] // graft on 2027-05-23
 */
export function countBack(wish: Wish): Task[] {
  const [refused] = refusalsOf(wish);
  if (refused) throw new RangeError(`impossible wish: ${refused.path} ${refused.code}`);
  const plan = settle(wish);
  const checks = plan.eggsSeen === undefined ? checksFromInsemination(plan) : checksFromEggs(plan, plan.eggsSeen);
  return [...droneTasks(plan), ...queenTasks(plan), ...benchTasks(plan), ...checks];
}

/**
 * The earliest insemination day still possible when everything starts on `today`: both the drone comb and the starter.
 * Ages are the youngest of the profile's hard windows unless the wish asks for others.
 */
export function earliestInsemination(today: Day, wish: Pick<Wish, 'queenAge' | 'droneAge' | 'profile'>): Day {
  const { timings, queens, drones } = wish.profile;
  const droneSide =
    timings.combLead.value + timings.droneEggToEmergence.value + (wish.droneAge?.from ?? drones.hard.from);
  const queenSide = timings.starterLead.value + timings.graftToEmergence.value + (wish.queenAge ?? queens.hard.from);
  return laterOf(addDays(today, droneSide), addDays(today, queenSide));
}
