import { type Day, daysBetween } from '#units/calendar-day.ts';
import { doubt, type Problem, warn } from '#units/problem.ts';
import { isAnother, type LayingCheck } from './check.ts';

/**
 * What one look says. `laying` = capped worker brood. `drone-layer` = drone caps in worker cells and no worker caps: a failure,
 * until a later look shows worker caps. `scattered-drone` = both: little or poor semen.
 */
export type Verdict =
  | 'laying'
  | 'scattered-drone'
  | 'drone-layer'
  | 'eggs'
  | 'eggs-doubtful'
  | 'no-eggs'
  | 'another-queen'
  | 'gone'
  | 'not-looked';

/** Eggs sooner than this many days after the insemination are not hers, as a rule (no treated queen laid earlier; common practice). */
export const EARLIEST_EGGS_DAYS = 2;

/**
 * The verdict of one look. The strongest sight decides: another queen or a missing one before any brood; caps before eggs.
 * "Several in a cell" (a young queen, or laying workers) is doubtful. Nothing ticked is not looked.
 */
export function verdictOf(check: LayingCheck): Verdict {
  const saw = (sight: LayingCheck['sights'][number]) => check.sights.includes(sight);
  if (isAnother(check)) return 'another-queen';
  if (saw('queen-gone')) return 'gone';
  if (saw('worker-caps') || saw('own-workers')) return saw('drone-caps') ? 'scattered-drone' : 'laying';
  if (saw('drone-caps')) return 'drone-layer';
  if (saw('several-in-a-cell')) return 'eggs-doubtful';
  if (saw('eggs')) return 'eggs';
  return saw('no-eggs') ? 'no-eggs' : 'not-looked';
}

/**
 * What should be asked at the form: eggs sooner than two days after the insemination (is it the same queen?), drone caps (she
 * leaves the stock until confirmed), queen cells (she may be superseded).
 * @param inseminated her last insemination, null when unknown
 */
export function askAbout(
  check: LayingCheck,
  inseminated: Day | null,
): Problem<'eggs-too-early' | 'drone-layer-to-confirm' | 'queen-cells-seen'>[] {
  const problems: ReturnType<typeof askAbout> = [];
  const after = inseminated === null ? null : daysBetween(inseminated, check.day);
  const sawEggs = check.sights.includes('eggs') || check.sights.includes('several-in-a-cell');
  if (sawEggs && after !== null && after >= 0 && after < EARLIEST_EGGS_DAYS) {
    problems.push(doubt('sights', 'eggs-too-early', { days: after }));
  }
  if (verdictOf(check) === 'drone-layer') problems.push(doubt('sights', 'drone-layer-to-confirm', { day: check.day }));
  if (check.sights.includes('queen-cells')) problems.push(warn('sights', 'queen-cells-seen', { day: check.day }));
  return problems;
}
