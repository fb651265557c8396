import { type Day, daysBetween } from '#units/calendar-day.ts';
import { type Problem, warn } from '#units/problem.ts';
import { countBack, earliestInsemination } from './count-back.ts';
import type { AgeWindow, UsableAges } from './profile.ts';
import type { Wish } from './wish.ts';

export type WishWarning =
  | 'queens-too-young'
  | 'queens-too-old'
  | 'queens-outside-preferred'
  | 'second-dose-too-old'
  | 'drones-too-young'
  | 'drones-too-old'
  | 'drones-outside-preferred'
  | 'held-past-first-check'
  | 'task-past'
  | 'day-past'
  | 'day-too-near';

const outside = (asked: AgeWindow, window: AgeWindow) => asked.from < window.from || asked.to > window.to;

type AgeCodes = { young: WishWarning; old: WishWarning; beside: WishWarning };

function ageWarnings(path: string, asked: AgeWindow, ages: UsableAges, codes: AgeCodes): Problem<WishWarning>[] {
  const values = { from: asked.from, to: asked.to };
  const found: Problem<WishWarning>[] = [];
  if (asked.from < ages.hard.from) found.push(warn(path, codes.young, { ...values, limit: ages.hard.from }));
  if (asked.to > ages.hard.to) found.push(warn(path, codes.old, { ...values, limit: ages.hard.to }));
  if (found.length === 0 && outside(asked, ages.preferred))
    found.push(warn(path, codes.beside, { ...values, ...spread(ages.preferred) }));
  return found;
}

const spread = ({ from, to }: AgeWindow) => ({ preferredFrom: from, preferredTo: to });

const QUEEN: AgeCodes = { young: 'queens-too-young', old: 'queens-too-old', beside: 'queens-outside-preferred' };
const DRONE: AgeCodes = { young: 'drones-too-young', old: 'drones-too-old', beside: 'drones-outside-preferred' };

function biologyWarnings(wish: Wish): Problem<WishWarning>[] {
  const { profile } = wish;
  const age = wish.queenAge ?? profile.usual.queenAge;
  const hold = wish.holdDays ?? profile.usual.holdDays;
  const found = [
    ...ageWarnings('queenAge', { from: age, to: age }, profile.queens, QUEEN),
    ...ageWarnings('droneAge', wish.droneAge ?? profile.usual.droneAge, profile.drones, DRONE),
  ];
  if (wish.doses === 2 && age <= profile.queens.hard.to && age + 2 > profile.queens.hard.to)
    found.push(warn('doses', 'second-dose-too-old', { age: age + 2, limit: profile.queens.hard.to }));
  const release = hold + (wish.doses === 2 ? 2 : 0);
  if (release > 7) found.push(warn('holdDays', 'held-past-first-check', { release, check: 7 }));
  return found;
}

/** Only tasks still to be done are late; what happens by itself (laying, emergence) is not a task missed. */
const BY_ITSELF = new Set(['drone-eggs', 'drones-emerge', 'virgins-emerge']);

/** Warnings that need to know which day it is: given by the caller, since nothing here looks at a clock. */
function calendarWarnings(wish: Wish, today: Day): Problem<WishWarning>[] {
  const late = daysBetween(wish.inseminate, today);
  if (late > 0) return [warn('inseminate', 'day-past', { day: wish.inseminate, ago: late })];
  const missed = countBack(wish).filter(({ key, to }) => to < today && !BY_ITSELF.has(key));
  if (missed.length === 0) return [];
  const earliest = earliestInsemination(today, wish);
  return [
    warn('inseminate', 'day-too-near', { day: wish.inseminate, earliest }),
    ...missed.map(({ key, to }) => warn('inseminate', 'task-past', { key, day: to, ago: daysBetween(to, today) })),
  ];
}

/**
 * What a breeder should be told about a wish that can be counted back: ages outside the usable (hard) or best (preferred)
 * windows of the profile, and, when `today` is given, what should already have happened and the earliest day still possible.
 */
export function warningsOf(wish: Wish, today?: Day): Problem<WishWarning>[] {
  return [...biologyWarnings(wish), ...(today === undefined ? [] : calendarWarnings(wish, today))];
}
