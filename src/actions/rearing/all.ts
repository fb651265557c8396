import { addTask } from './add-task.ts';
import { countBackCross } from './count-back.ts';
import { doTask } from './do-task.ts';
import { emergeVirgins } from './emerge-virgins.ts';
import { moveTask } from './move-task.ts';
import { recordCells } from './record-cells.ts';
import { noteDroneComb, recordDroneComb } from './record-drone-comb.ts';
import { recordGraft } from './record-graft.ts';
import { settleParked } from './settle-parked.ts';

/** What a person can do in Rearing, and with tasks. */
export const rearingActions = [
  addTask,
  countBackCross,
  doTask,
  emergeVirgins,
  moveTask,
  noteDroneComb,
  recordCells,
  recordDroneComb,
  recordGraft,
  settleParked,
];
