import type { TaskKey } from '../task.ts';

/** Tasks of a season: those of a countback, and the trial eversion of ten drones two days before. */
export type SeasonTaskKey = TaskKey | 'trial-eversion';
