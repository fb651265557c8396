import { benchBoard } from './bench-board.ts';

/** What a person can ask in Bench. */
export const benchQuestions = [benchBoard];
