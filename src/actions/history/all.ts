import { plantSample, removeSample } from '../sample/plant-sample.ts';
import { correct } from './correct.ts';
import { removeRecord } from './remove-record.ts';
import { settleWorry } from './settle-worry.ts';
import { stepBack } from './step-back.ts';

/** What a person can do at the edge of every place. */
export const edgeActions = [correct, removeRecord, settleWorry, stepBack, plantSample, removeSample];
