import type { BenchAct } from './bench-board.ts';

/** The acts of a board that still stand: without those stepped back, and without the steps back themselves. */
export function standingActs(acts: readonly BenchAct[]): BenchAct[] {
  const gone = new Set(acts.flatMap((act) => (act.kind === 'step-back' ? act.of : [])));
  return acts.filter((act) => act.kind !== 'step-back' && !gone.has(act.n));
}
