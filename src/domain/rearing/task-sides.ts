import type { TaskKey } from './task.ts';

const DRONE_TASKS: ReadonlySet<string> = new Set<TaskKey>([
  'drone-comb-in',
  'drone-eggs',
  'drone-egg-check',
  'drone-brood-out',
  'drones-emerge',
]);
const QUEEN_TASKS: ReadonlySet<string> = new Set<TaskKey>([
  'starter',
  'graft',
  'nucs-ready',
  'cells-out',
  'virgins-emerge',
]);
const BENCH_TASKS: ReadonlySet<string> = new Set<TaskKey>(['trial-eversion', 'first-co2', 'inseminate', 'second-dose']);

/** Which part of a cross a task belongs to: raising drones, raising queens, the bench, or the care after it. */
export type TaskSide = 'drones' | 'queens' | 'bench' | 'care';

export function sideOf(key: string): TaskSide {
  if (DRONE_TASKS.has(key)) return 'drones';
  if (QUEEN_TASKS.has(key)) return 'queens';
  return BENCH_TASKS.has(key) ? 'bench' : 'care';
}

const FREE_TASKS: ReadonlySet<string> = new Set<string>([
  'drone-comb-in',
  'drone-egg-check',
  'drone-brood-out',
  'starter',
  'nucs-ready',
  'trial-eversion',
  'first-co2',
  'release-check',
  'egg-check',
  'egg-check-2',
  'egg-check-3',
  'brood-check',
  'own',
]);

/** True for what eggs, larvae and semen set the day of: it moves with the insemination day or an age, never alone. */
export const isTiedToBiology = (key: string): boolean => !FREE_TASKS.has(key);
