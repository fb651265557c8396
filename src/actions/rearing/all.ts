import { addTask } from './add-task.ts';
import { countBackCross } from './count-back.ts';
import { doTask } from './do-task.ts';
import { emergeVirgins } from './emerge-virgins.ts';
import { meanVirgins } from './mean-virgins.ts';
import { moveTask } from './move-task.ts';
import { chooseUsualProfile } from './profile/choose-usual-profile.ts';
import { dropProfile } from './profile/drop-profile.ts';
import { keepProfile } from './profile/keep-profile.ts';
import { setFigures } from './profile/set-figures.ts';
import { recordCells } from './record-cells.ts';
import { noteDroneComb, recordDroneComb } from './record-drone-comb.ts';
import { recordGraft } from './record-graft.ts';
import { seasonActions } from './season/all.ts';
import { settleParked } from './settle-parked.ts';

/** What a person can do in Rearing, and with tasks. */
export const rearingActions = [
  addTask,
  chooseUsualProfile,
  countBackCross,
  doTask,
  dropProfile,
  emergeVirgins,
  keepProfile,
  meanVirgins,
  moveTask,
  noteDroneComb,
  recordCells,
  recordDroneComb,
  recordGraft,
  setFigures,
  settleParked,
  ...seasonActions,
];
