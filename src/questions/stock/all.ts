import { chooseQueens } from './choose-queens.ts';

/** What a person can ask in Stock. */
export const stockQuestions = [chooseQueens];
