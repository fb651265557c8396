import { broodOfCrosses } from '#domain/brood/brood-of-crosses.ts';
import type { Progress } from '#ports/compute.ts';

/** A heavy piece of work that runs away from the page and the server: plain facts in, plain answer out. */
export type Computation = (facts: never, progress: Progress) => unknown;

/** Every computation by name. The same list in a worker thread, in a Web Worker and in place. */
export const computations: Readonly<Record<string, Computation>> = {
  'brood-of-crosses': broodOfCrosses,
};

/** Runs one computation here. Throws when there is none of that name: that is our mistake. */
export function compute(name: string, facts: unknown, progress: Progress): unknown {
  const computation = computations[name];
  if (computation === undefined) throw new Error(`no computation called ${name}`);
  return computation(facts as never, progress);
}

/** What goes to a worker and what comes back. */
export type Job = { name: string; facts: unknown };
export type Reply = { progress: [number, number] } | { answer: unknown } | { failed: string };
