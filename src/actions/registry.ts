import { correct } from './history/correct.ts';
import { removeRecord } from './history/remove-record.ts';
import { settleWorry } from './history/settle-worry.ts';
import { stepBack } from './history/step-back.ts';
import type { Action } from './mechanism/action.ts';
import { lendQueen, returnQueen } from './stock/lend-queen.ts';
import { markQueen } from './stock/mark-queen.ts';
import { moveQueen } from './stock/move-queen.ts';
import { recodeQueen } from './stock/recode-queen.ts';
import { recordColony } from './stock/record-colony.ts';
import { recordFate } from './stock/record-fate.ts';
import * as plain from './stock/record-plain.ts';
import { recordQueen } from './stock/record-queen.ts';

/** Every thing a person can do. The server, the command line and the screens are built from this list. */
const everyAction = [
  correct,
  removeRecord,
  settleWorry,
  stepBack,
  lendQueen,
  returnQueen,
  markQueen,
  moveQueen,
  recodeQueen,
  recordColony,
  recordFate,
  recordQueen,
  ...Object.values(plain),
] as unknown as readonly Action[];

export const actions: ReadonlyMap<string, Action> = new Map(everyAction.map((each) => [each.name, each]));
