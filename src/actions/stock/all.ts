import { importActions } from '../import/all.ts';
import { attachPhoto } from './attach-photo.ts';
import { correctMatingSeason } from './correct-mating-season.ts';
import { describeQueen } from './describe-queen.ts';
import { keepRun } from './keep-run.ts';
import { lendQueen, returnQueen } from './lend-queen.ts';
import { foundLine, joinLine, nameSisters } from './lines.ts';
import { markQueen } from './mark-queen.ts';
import { moveQueen } from './move-queen.ts';
import { recodeQueen } from './recode-queen.ts';
import { recordColony } from './record-colony.ts';
import { recordFate } from './record-fate.ts';
import { recordMatingSeason } from './record-mating-season.ts';
import * as plain from './record-plain.ts';
import { recordQueen } from './record-queen.ts';
import { takeBackMatingSeason } from './take-back-mating-season.ts';
import { tellMating } from './tell-mating.ts';

/** What a person can do in Stock. */
export const stockActions = [
  ...importActions,
  lendQueen,
  returnQueen,
  markQueen,
  moveQueen,
  recodeQueen,
  recordColony,
  recordFate,
  recordMatingSeason,
  correctMatingSeason,
  takeBackMatingSeason,
  recordQueen,
  describeQueen,
  tellMating,
  foundLine,
  joinLine,
  nameSisters,
  attachPhoto,
  keepRun,
  ...Object.values(plain),
];
