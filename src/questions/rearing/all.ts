import { barLeaf } from './bar-leaf.ts';
import { combLeaf } from './comb-leaf.ts';
import { countback } from './countback.ts';
import { profileChoices } from './profile-choices.ts';
import { profilesQuestion } from './profiles.ts';
import { raisingChances } from './raising-chances.ts';
import { dayRepairs } from './season/day-repairs.ts';
import { seasonDays } from './season/season-days.ts';
import { seasonPlan } from './season/season-plan.ts';
import { season } from './season.ts';
import { virgins } from './virgins.ts';

/** What a person can ask in Rearing. */
export const rearingQuestions = [
  barLeaf,
  combLeaf,
  countback,
  dayRepairs,
  profileChoices,
  profilesQuestion,
  raisingChances,
  season,
  seasonDays,
  seasonPlan,
  virgins,
];
