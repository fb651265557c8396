import { broodOfCrosses } from '#domain/brood/brood-of-crosses.ts';
import { goesWith } from '#domain/lessons/goes-with.ts';
import { crossOutlook, type RaisingFacts, raisingChances } from '#domain/rearing/chances/raising-chances.ts';
import { chancesOfDays, waysToMend } from '#domain/rearing/reality/day-chances.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';
import { rankFiles } from '#domain/worth/files/rank-files.ts';
import type { Progress } from '#ports/compute.ts';
import type { SeasonFacts } from './season-solver.ts';
import { worthComputations } from './worth.ts';

/** A heavy piece of work that runs away from the page and the server: plain facts in, plain answer out. */
export type Computation = (facts: never, progress: Progress) => unknown;

/** Every computation by name. The same list in a worker thread, in a Web Worker and in place. */
export const computations: Readonly<Record<string, Computation>> = {
  'brood-of-crosses': broodOfCrosses,
  'goes-with': goesWith,
  'rank-files': rankFiles,
  'raising-chances': raisingChances,
  'cross-outlooks': (crosses: readonly RaisingFacts[]) => crosses.map(crossOutlook),
  'season-days': chancesOfDays,
  'day-repairs': waysToMend,
  ...worthComputations,
  // The solver is 3.5 MB of WebAssembly: loaded when a season is planned, and not before.
  'season-plan': async (facts: SeasonFacts, progress) =>
    (await import('./season-solver.ts')).proposeSeason(facts, progress),
  'season-clash': async (wish: SeasonWish) => (await import('./season-solver.ts')).explainShortfall(wish),
};

/** A computation to run: its name, its facts, where its progress goes. */
export type Asked = { name: string; facts: unknown; progress: Progress };

/** Runs one computation of a list here. Throws when there is none of that name: that is our mistake. */
export function compute(
  { name, facts, progress }: Asked,
  list: Readonly<Record<string, Computation>> = computations,
): unknown {
  const computation = list[name];
  if (computation === undefined) throw new Error(`no computation called ${name}`);
  return computation(facts as never, progress);
}

/** What goes to a worker and what comes back. */
export type Job = { name: string; facts: unknown };
export type Reply = { progress: [number, number] } | { answer: unknown } | { failed: string };
