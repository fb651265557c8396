import { moveInseminationDay } from './move-insemination-day.ts';
import { repairDay } from './repair-day.ts';
import { beginSeason, changeSeason, takeDaysOff, workOnDays } from './set-season.ts';
import { takeSeasonPlan } from './take-season-plan.ts';

/** What a person can do with the season of many crosses. */
export const seasonActions = [
  beginSeason,
  changeSeason,
  takeDaysOff,
  workOnDays,
  takeSeasonPlan,
  moveInseminationDay,
  repairDay,
];
