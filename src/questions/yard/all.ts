import { colony } from './colony.ts';
import { goesWith } from './goes-with.ts';
import { layingRound } from './laying-round.ts';
import { lessons, outcomes } from './lessons.ts';
import { nucLabels } from './nuc-labels.ts';
import { nursing } from './nursing.ts';
import { queenSurvival } from './queen-survival.ts';
import { scoreCards } from './score-cards.ts';
import { seasonRecordsOf } from './season-records.ts';
import { springRound } from './spring-round.ts';
import { yards } from './yards.ts';

/** What a person can ask in Yard, and what the queens inseminated taught. */
export const yardQuestions = [
  yards,
  colony,
  nursing,
  layingRound,
  springRound,
  scoreCards,
  seasonRecordsOf,
  nucLabels,
  lessons,
  outcomes,
  goesWith,
  queenSurvival,
];
