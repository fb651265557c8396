import { sayProblem } from '#words/say.ts';
import type { SaidProblem } from '../link/server.ts';

/** All refusals in one sentence each, for a message. */
export const sayRefusals = (problems: readonly SaidProblem[]): string => problems.map(sayProblem).join(' ');

/** The problem at one field, in words, or nothing. */
export function problemAt(problems: readonly SaidProblem[], path: string): string | undefined {
  const found = problems.find((problem) => problem.path === path && problem.weight !== 'warn');
  return found === undefined ? undefined : sayProblem(found);
}

/** The summary above a form: what keeps it from being kept. It takes the focus when it appears. */
export function Problems({ problems, title }: { problems: readonly SaidProblem[]; title: string }) {
  if (problems.length === 0) return null;
  return (
    <div className="problems" role="alert" tabIndex={-1} ref={(box) => box?.focus()}>
      <h3>{title}</h3>
      <ul>
        {problems.map((problem) => (
          <li key={`${problem.path} ${problem.code} ${JSON.stringify(problem.values)}`}>{sayProblem(problem)}</li>
        ))}
      </ul>
    </div>
  );
}
