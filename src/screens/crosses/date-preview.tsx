import { countBack } from '#domain/rearing/count-back.ts';
import type { Task } from '#domain/rearing/task.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { planWarnings } from '#questions/rearing/plan-warnings.ts';
import { daysBetween } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { sayHere } from '../parts/problems.tsx';
import { fromIWords, spanWords } from '../today/task-words.ts';

function TaskDay({ task, wish }: { task: Task; wish: Wish }) {
  const isPast = task.to < today();
  return (
    <li className={task.key === 'inseminate' ? 'insemination' : isPast ? 'past' : undefined}>
      <span className="when">{spanWords(task.from, task.to)}</span>
      <span className="from-i">{fromIWords(daysBetween(wish.inseminate, task.from))}</span>
      <span className="what">
        {sayAny(`task.${task.key}`, task.values)}
        {isPast ? <strong> {say('cross.past-already')}</strong> : null}
      </span>
    </li>
  );
}

/** The real days of a plan while it is typed: every task, counted back from the insemination day. */
export function DatePreview({ wish }: { wish: Wish | null }) {
  if (wish === null) return <p className="soft">{say('cross.dates-none')}</p>;
  const tasks = [...countBack(wish)].sort((a, b) => (a.from < b.from ? -1 : Number(a.from > b.from)));
  const warnings = planWarnings(wish, today());
  return (
    <div className="stack tight">
      {warnings.map((warning) => (
        <p key={warning.code} className="problem">
          {sayHere(warning)}
        </p>
      ))}
      <ol className="dates" aria-label={say('cross.dates')}>
        {tasks.map((task) => (
          <TaskDay key={task.key} task={task} wish={wish} />
        ))}
      </ol>
    </div>
  );
}
