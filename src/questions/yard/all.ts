import { lessons, outcomes } from './lessons.ts';

/** What a person can ask in Yard, and what the queens inseminated taught. */
export const yardQuestions = [lessons, outcomes];
