import type { CountChances } from '#numeric/chance/count-chances.ts';
import { type DayNeeds, readyTogether } from './day-plan.ts';

/** Mean numbers of wanted queens that are ready on the day, and that then lay worker brood. */
export type GoodQueens = { ready: number; laying: number };

/** Mean of a count, what is above `most` not counted. */
const meanUpTo = (most: number, chances: CountChances): number =>
  chances.reduce((sum, share, k) => sum + share * Math.min(k, most), 0);

/** Mean numbers of good queens of a day; queens above those wanted are not counted. */
export function goodQueens({ queens }: DayNeeds): GoodQueens {
  const ready = queens.map((need) => ({ ...need, ready: meanUpTo(need.queens, readyTogether(need)) }));
  return {
    ready: ready.reduce((sum, one) => sum + one.ready, 0),
    laying: ready.reduce((sum, one) => sum + one.ready * one.laying, 0),
  };
}
