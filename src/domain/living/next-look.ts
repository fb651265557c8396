import { type Day, laterOf } from '#units/calendar-day.ts';
import { countBack } from '../rearing/count-back.ts';
import type { Task, TaskKey } from '../rearing/task.ts';
import { refusalsOf, type Wish } from '../rearing/wish.ts';
import { inOrder, type LayingCheck, type Sight } from './check.ts';
import { verdictOf } from './check-verdict.ts';

/**
 * What to look for in a nuc next, and from when on. `confirm`: drone caps without worker caps were seen; look again, then decide.
 * `decide`: every look was made, and still no worker brood.
 */
export type NextLook = { key: TaskKey | 'confirm' | 'decide'; from: Day; to: Day };

const EGGS: readonly Sight[] = ['eggs', 'several-in-a-cell', 'worker-caps', 'drone-caps', 'own-workers'];
const CAPS: readonly Sight[] = ['worker-caps', 'drone-caps', 'own-workers'];
const LOOKS: readonly TaskKey[] = ['egg-check', 'egg-check-2', 'egg-check-3', 'brood-check', 'own-workers'];

const opened = (check: LayingCheck): boolean => !check.sights.includes('not-opened') && check.sights.length > 0;
const shows = (check: LayingCheck, sights: readonly Sight[]): boolean =>
  check.sights.some((saw) => sights.includes(saw));

function isDone({ key, from }: Task, looks: readonly LayingCheck[], eggs: Day | null): boolean {
  const capped = looks.some((look) => shows(look, CAPS));
  if (key.startsWith('egg-check')) return eggs !== null || looks.some(({ day }) => day >= from);
  if (key === 'brood-check') return capped || (eggs === null && looks.some(({ day }) => day >= from));
  return looks.some((look) => look.sights.includes('own-workers')) || looks.some(({ day }) => day >= from);
}

/**
 * The next look at one queen after her insemination: for eggs (I+7, I+10, I+14), then for the caps (11 days after eggs were
 * seen, or I+21), then for her own workers (21 days after eggs); the days are those of the countback. `null` when she was
 * looked at for all of it and lays; a queen without worker brood after the last look is to be decided about, one with drone caps only
 * to be confirmed.
 * @param wish what the checks count from: her insemination day and profile
 * @param checks all looks at her since then, in any order
 */
export function nextLook(wish: Omit<Wish, 'eggsSeen'>, checks: readonly LayingCheck[]): NextLook | null {
  const looks = inOrder(checks).filter((check) => check.day >= wish.inseminate && opened(check));
  const eggs = looks.find((look) => shows(look, EGGS))?.day ?? null;
  const caps = looks.filter((look) => shows(look, CAPS)).at(-1);
  if (caps !== undefined && verdictOf(caps) === 'drone-layer') return { key: 'confirm', from: caps.day, to: caps.day };
  const counted: Wish = { ...wish, ...(eggs === null ? {} : { eggsSeen: laterOf(eggs, wish.inseminate) }) };
  if (refusalsOf(counted).length > 0) return null;
  const tasks = countBack(counted).filter(({ key }) => LOOKS.includes(key) && (eggs !== null || key !== 'own-workers'));
  const next = tasks.filter((task) => !isDone(task, looks, eggs)).sort((a, b) => (a.from < b.from ? -1 : 1))[0];
  if (next !== undefined) return { key: next.key, from: next.from, to: next.to };
  const last = looks.at(-1);
  const lays = looks.some((look) => look.sights.includes('worker-caps') || look.sights.includes('own-workers'));
  return lays || last === undefined ? null : { key: 'decide', from: last.day, to: last.day };
}
