import { moveColony, orderYard } from './change-place.ts';
import { checkLaying, enterRound } from './check-laying.ts';
import { endColony, uniteColonies } from './end-colony.ts';
import { foundDeadInCare } from './found-dead.ts';
import { introduceQueen, settleIntroduction } from './introduce-queen.ts';
import { judgeReading } from './judge-reading.ts';
import { nurseQueens } from './nurse-queens.ts';
import { readTest } from './read-test.ts';
import { recordVisit } from './record-visit.ts';
import { releaseQueens } from './release-queens.ts';
import { scoreColony } from './score-colony.ts';
import { splitColony } from './split-colony.ts';
import { takeExcluderOff } from './take-excluder-off.ts';

/** What a person can do in Yard. */
export const yardActions = [
  checkLaying,
  enterRound,
  nurseQueens,
  foundDeadInCare,
  releaseQueens,
  introduceQueen,
  settleIntroduction,
  takeExcluderOff,
  moveColony,
  orderYard,
  endColony,
  uniteColonies,
  splitColony,
  scoreColony,
  recordVisit,
  readTest,
  judgeReading,
];
