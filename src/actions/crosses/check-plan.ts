import type { Facts } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import { dayProblems } from './check-day.ts';
import { formProblems } from './check-form.ts';
import { sideProblems } from './check-sides.ts';
import type { Plan } from './plan.ts';

/** The day it is, and whether the plan has been carried out already. */
type When = { day: Day; happened: boolean };

/**
 * Everything that speaks against a plan on a day, form first: what is impossible as written hides what depends on it. Whether a day
 * can still be reached is asked of plans only: what has happened was reached.
 */
export async function planProblems(facts: Facts, plan: Plan, { day, happened }: When): Promise<Problem[]> {
  const form = await formProblems(facts, plan);
  if (form.some(({ weight }) => weight === 'refuse')) return form;
  return [...form, ...(await sideProblems(facts, plan, day)), ...(happened ? [] : await dayProblems(facts, plan, day))];
}

/** Whether problems keep an act from being kept: a plan by its doubts too, what has happened only by what is impossible. */
export const isBarred = (problems: readonly Problem[], { happened }: Pick<When, 'happened'>): boolean =>
  problems.some(({ weight }) => weight === 'refuse' || (weight === 'doubt' && !happened));

const sameAs = (a: Problem) => (b: Problem) => a.code === b.code && a.path === b.path && a.values.id === b.values.id;

/** Of the problems of a changed plan, those it did not have before: an old trouble does not keep a person from mending another. */
export const newProblems = (before: readonly Problem[], after: readonly Problem[]): Problem[] =>
  after.filter((problem) => !before.some(sameAs(problem)));
