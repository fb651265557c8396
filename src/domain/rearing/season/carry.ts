import type { SeasonTaskKey } from './season-task-key.ts';

/** What a task wants carried to the yard or laid out at home, by its key; wording is kept by these codes (`carry.CODE`). */
export const carryFor: Readonly<Partial<Record<SeasonTaskKey, readonly string[]>>> = {
  'drone-comb-in': ['drone-comb', 'comb-pin', 'smoker'],
  'drone-egg-check': ['smoker', 'lamp', 'spare-drone-comb'],
  'drone-brood-out': ['smoker', 'excluder', 'empty-comb'],
  'drones-emerge': ['paint', 'marking-tube', 'excluder'],
  'trial-eversion': ['catching-box', 'eye-glass'],
  starter: ['starter-box', 'feed', 'smoker'],
  graft: ['grafting-tool', 'lamp', 'damp-cloth', 'cell-bar', 'bar-tag'],
  'nucs-ready': ['nucs', 'feed', 'entrance-excluders', 'nursing-boxes'],
  'cells-out': ['cell-cages', 'incubator-box', 'bar-tag'],
  'virgins-emerge': ['cages', 'discs', 'glue', 'labels'],
  'first-co2': ['carbon-dioxide', 'timer', 'cage-list'],
  inseminate: ['carbon-dioxide', 'tips', 'saline', 'capillaries', 'drone-boxes', 'queen-cages', 'labels'],
  'second-dose': ['carbon-dioxide', 'tips', 'saline', 'capillaries', 'queen-cages'],
  release: ['home-slip', 'sugar-spray', 'entrance-excluders'],
  'egg-check': ['smoker', 'lamp', 'round-sheet'],
  'egg-check-2': ['smoker', 'lamp', 'round-sheet'],
  'egg-check-3': ['smoker', 'lamp', 'round-sheet'],
  'brood-check': ['smoker', 'round-sheet'],
};
