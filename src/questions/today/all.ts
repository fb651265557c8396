import { parkedActs } from './parked-acts.ts';
import { todayQuestion } from './today.ts';

/** What a person can ask in Today. */
export const todayQuestions = [parkedActs, todayQuestion];
