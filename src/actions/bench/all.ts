import { addException } from './add-exception.ts';
import { changeBenchDay } from './change-bench-day.ts';
import { closeBenchDay } from './close-bench-day.ts';
import { fillTip } from './fill-tip.ts';
import { giveCo2 } from './give-co2.ts';
import { giveDose } from './give-dose.ts';
import { home } from './home.ts';
import { markAtBench } from './mark-at-bench.ts';
import { mountTip } from './mount-tip.ts';
import { notDone } from './not-done.ts';
import { noteAtBench } from './note-at-bench.ts';
import { openBenchDay } from './open-bench-day.ts';
import { queueQueens } from './queue-queens.ts';
import { sayWhyStopped } from './say-why-stopped.ts';
import { settleFlag } from './settle-flag.ts';

/** What a person can do in Bench. */
export const benchActions = [
  addException,
  changeBenchDay,
  closeBenchDay,
  fillTip,
  giveCo2,
  giveDose,
  home,
  markAtBench,
  mountTip,
  notDone,
  noteAtBench,
  openBenchDay,
  queueQueens,
  sayWhyStopped,
  settleFlag,
];
