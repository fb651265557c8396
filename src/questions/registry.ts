import { benchQuestions } from './bench/all.ts';
import { crossesQuestions } from './crosses/all.ts';
import { edgeQuestions } from './edge/all.ts';
import type { Question } from './mechanism/question.ts';
import { rearingQuestions } from './rearing/all.ts';
import { semenQuestions } from './semen/all.ts';
import { stockQuestions } from './stock/all.ts';
import { todayQuestions } from './today/all.ts';
import { yardQuestions } from './yard/all.ts';

/** Every thing a person can ask. The server, the command line and the screens are built from this list. */
const everyQuestion = [
  ...edgeQuestions,
  ...todayQuestions,
  ...stockQuestions,
  ...crossesQuestions,
  ...rearingQuestions,
  ...semenQuestions,
  ...benchQuestions,
  ...yardQuestions,
] as unknown as readonly Question[];

export const questions: ReadonlyMap<string, Question> = new Map(everyQuestion.map((each) => [each.name, each]));
