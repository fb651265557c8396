import { barLeaf } from './bar-leaf.ts';
import { combLeaf } from './comb-leaf.ts';
import { countback } from './countback.ts';
import { profileChoices } from './profile-choices.ts';
import { profilesQuestion } from './profiles.ts';
import { raisingChances } from './raising-chances.ts';
import { season } from './season.ts';
import { virgins } from './virgins.ts';

/** What a person can ask in Rearing. */
export const rearingQuestions = [
  barLeaf,
  combLeaf,
  countback,
  profileChoices,
  profilesQuestion,
  raisingChances,
  season,
  virgins,
];
