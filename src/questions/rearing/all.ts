import { barLeaf } from './bar-leaf.ts';
import { combLeaf } from './comb-leaf.ts';
import { countback } from './countback.ts';
import { movedCross } from './moved-cross.ts';
import { profileChoices } from './profile-choices.ts';
import { profilesQuestion } from './profiles.ts';
import { raisedTags } from './raised-tags.ts';
import { raisingChances } from './raising-chances.ts';
import { dayRepairs } from './season/day-repairs.ts';
import { seasonDays } from './season/season-days.ts';
import { seasonPlan } from './season/season-plan.ts';
import { season } from './season.ts';
import { seasonWall } from './season-wall.ts';
import { virgins } from './virgins.ts';

/** What a person can ask in Rearing. */
export const rearingQuestions = [
  barLeaf,
  combLeaf,
  countback,
  dayRepairs,
  movedCross,
  profileChoices,
  profilesQuestion,
  raisedTags,
  raisingChances,
  season,
  seasonDays,
  seasonPlan,
  seasonWall,
  virgins,
];
