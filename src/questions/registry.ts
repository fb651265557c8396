import { find } from './edge/find.ts';
import { history } from './edge/history.ts';
import type { Question } from './mechanism/question.ts';

/** Every thing a person can ask. The server, the command line and the screens are built from this list. */
const everyQuestion = [find, history] as unknown as readonly Question[];

export const questions: ReadonlyMap<string, Question> = new Map(everyQuestion.map((each) => [each.name, each]));
