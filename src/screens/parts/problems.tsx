import { type Day, parseDay } from '#units/calendar-day.ts';
import type { Problem } from '#units/problem.ts';
import { dayWords } from '#words/day-words.ts';
import { sayProblem } from '#words/say.ts';
import type { SaidProblem } from '../link/server.ts';
import { today } from '../link/this-device.ts';

const worded = (value: string | number): string | number =>
  typeof value === 'string' && parseDay(value) !== null ? dayWords(value as Day, today()) : value;

/** What a problem says on a page: its days in words, as everywhere else on it. */
export const sayHere = ({ code, values }: Pick<Problem, 'code' | 'values'>): string =>
  sayProblem({
    code,
    values: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, worded(value)])),
  });

/** All refusals in one sentence each, for a message. */
export const sayRefusals = (problems: readonly SaidProblem[]): string => problems.map(sayHere).join(' ');

/** The problem at one field, in words, or nothing. */
export function problemAt(problems: readonly SaidProblem[], path: string): string | undefined {
  const found = problems.find((problem) => problem.path === path && problem.weight !== 'warn');
  return found === undefined ? undefined : sayHere(found);
}

/** The summary above a form: what keeps it from being kept. It takes the focus when it appears. */
export function Problems({ problems, title }: { problems: readonly SaidProblem[]; title: string }) {
  if (problems.length === 0) return null;
  return (
    <div className="problems" role="alert" tabIndex={-1} ref={(box) => box?.focus()}>
      <h3>{title}</h3>
      <ul>
        {problems.map((problem) => (
          <li key={`${problem.path} ${problem.code} ${JSON.stringify(problem.values)}`}>{sayHere(problem)}</li>
        ))}
      </ul>
    </div>
  );
}
