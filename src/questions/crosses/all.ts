import { choosing } from './choosing.ts';
import { crossBrood } from './cross-brood.ts';
import { crossGrid } from './cross-grid.ts';
import { crossLeaf } from './cross-leaf.ts';
import { crossOutlook } from './cross-outlook.ts';
import { crosses } from './crosses.ts';
import { standIns } from './stand-ins.ts';

/** What a person can ask in Crosses. */
export const crossesQuestions = [choosing, crossBrood, crossGrid, crossLeaf, crossOutlook, crosses, standIns];
