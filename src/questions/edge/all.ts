import { find } from './find.ts';
import { history } from './history.ts';
import { sample } from './sample.ts';

/** What a person can ask at the edge of every place. */
export const edgeQuestions = [find, history, sample];
