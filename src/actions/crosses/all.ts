import { cancelCross } from './cancel-cross.ts';
import { changeCross } from './change-cross.ts';
import { planCross } from './plan-cross.ts';
import { startWithOneCross } from './start-with-one-cross.ts';

/** What a person can do in Crosses. */
export const crossesActions = [planCross, changeCross, cancelCross, startWithOneCross];
