import { addTube } from './add-tube.ts';
import { collect } from './collect.ts';
import { correctLine } from './correct-line.ts';
import { keepTube } from './keep-tube.ts';
import { receiveSemen } from './receive-semen.ts';
import { stepTube } from './step-tube.ts';
import { tallyDrones } from './tally-drones.ts';

/** What a person can do in Semen. */
export const semenActions = [addTube, collect, correctLine, keepTube, receiveSemen, stepTube, tallyDrones];
