import type { Facts } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import { dayProblems } from './check-day.ts';
import { formProblems } from './check-form.ts';
import { sideProblems } from './check-sides.ts';
import type { Plan } from './plan.ts';

/** Everything that speaks against a plan on a day, form first: what is impossible as written hides what depends on it. */
export async function planProblems(facts: Facts, plan: Plan, today: Day): Promise<Problem[]> {
  const form = await formProblems(facts, plan);
  if (form.some(({ weight }) => weight === 'refuse')) return form;
  return [...form, ...(await sideProblems(facts, plan, today)), ...(await dayProblems(facts, plan, today))];
}

const sameAs = (a: Problem) => (b: Problem) => a.code === b.code && a.path === b.path && a.values.id === b.values.id;

/** Of the problems of a changed plan, those it did not have before: an old trouble does not keep a person from mending another. */
export const newProblems = (before: readonly Problem[], after: readonly Problem[]): Problem[] =>
  after.filter((problem) => !before.some(sameAs(problem)));
