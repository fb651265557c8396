import type { TaskLine } from '#questions/today/task-line.ts';
import { say } from '#words/say.ts';

/** The crosses a task is for: one, or all that share its bar or comb; empty for a task of one's own. */
export const crossesOf = ({ cross, shared }: TaskLine): string =>
  cross === null ? shared.map(({ code }) => code).join(', ') : cross.code;

/** Whom a task is about and how much of it there is: "26-014, 40 larvae". */
export const besideTask = ({ who, amount }: TaskLine): string =>
  [...who, ...(amount === null ? [] : [say(`task.${amount.what}`, { n: amount.n })])].join(', ');
