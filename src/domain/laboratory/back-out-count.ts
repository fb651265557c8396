import type { ChamberCount } from './sperm-count.ts';

/** The raw count behind a reported total; `whole` false when no whole number of sperm gives that total. */
export type RawCount = { count: number; whole: boolean; nearest: number };

/** How far from a whole number a quotient of printed totals may lie through rounding of doubles alone. */
const ROUNDING = 1e-6;

/**
 * Which count under the microscope gives a reported total: total × counted volume ÷ suspension ÷ dilution.
 * A result that is not a whole number is reported as such, never rounded into one: then another volume was counted, or the
 * total is not a count.
 * @example backOutCount(2881500, { countedVolume: 0.04, suspension: 500, dilution: 1 }) // { count: 230.52, whole: false, nearest: 231 }
 */
export function backOutCount(total: number, chamber: Omit<ChamberCount, 'counted'>): RawCount {
  const count = (total * chamber.countedVolume) / chamber.suspension / chamber.dilution;
  const nearest = Math.round(count);
  return { count, whole: Math.abs(count - nearest) <= ROUNDING * Math.max(1, nearest), nearest };
}
