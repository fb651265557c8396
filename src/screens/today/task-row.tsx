import '../style/task.css';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { stepBack } from '#actions/history/step-back.ts';
import { doTask } from '#actions/rearing/do-task.ts';
import { isWork, type TaskLine } from '#questions/today/task-line.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { useDo } from '../link/use-do.ts';
import { sayRefusals } from '../parts/problems.tsx';
import { type Sign, StateShape } from '../parts/state-sign.tsx';
import { tell } from '../parts/told.tsx';
import { TaskDoor } from './task-door.tsx';
import { carryWords, fromIWords, spanWords } from './task-words.ts';

const signOf = ({ state }: TaskLine): Sign => state;

/** The act that ticked each task on this page, so that one press takes it back. */
const ticked = new Map<string, RecordId>();

/** Ticks a task with one press, and takes the tick back with another. */
function Tick({ task }: { task: TaskLine }) {
  const { run, busy } = useDo();
  const [, seeAgain] = useState(0);
  const words = taskWords(task);
  const tick = async () => {
    const did = await run(doTask, { tasks: [task.id as RecordId] }, { happened: true });
    if ('problems' in did) return tell(sayRefusals(did.problems));
    ticked.set(task.id, did.act);
    seeAgain((n) => n + 1);
  };
  const back = async () => {
    const act = ticked.get(task.id);
    if (act === undefined) return;
    const did = await run(stepBack, { act });
    if ('problems' in did) return tell(sayRefusals(did.problems));
    ticked.delete(task.id);
  };
  if (task.state === 'cancelled' || !isWork(task.key))
    return (
      <span className="tick-place">
        <StateShape sign={signOf(task)} />
      </span>
    );
  if (task.state === 'done')
    return (
      <span className="tick-place">
        <StateShape sign="done" />
        {ticked.has(task.id) ? (
          <button
            type="button"
            className="button quiet step-back-tick"
            onClick={() => void back()}
            aria-disabled={busy}
          >
            {say('task.take-back')}
          </button>
        ) : null}
      </span>
    );
  return (
    <button
      type="button"
      className="tick-place tick-press"
      aria-label={say('task.tick', { task: words })}
      aria-disabled={busy}
      onClick={() => void (busy ? undefined : tick())}
    >
      <StateShape sign={signOf(task)} />
    </button>
  );
}

/** When a task is, in the words of its state. */
function When({ task }: { task: TaskLine }) {
  const { state, late, from, to, doneOn } = task;
  if (state === 'late')
    return (
      <strong>
        {say('task.late', { days: late })} <span className="soft">({spanWords(from, to)})</span>
      </strong>
    );
  if (state === 'done' && doneOn !== null) return <>{say('task.done-on', { day: spanWords(doneOn, doneOn) })}</>;
  if (state === 'cancelled') return <>{say('task.cancelled')}</>;
  return <>{spanWords(from, to)}</>;
}

type RowProps = {
  task: TaskLine;
  /** The cross is known from the page already. */
  withoutCross?: boolean;
  /** Also where it is and what to carry, where no heading says so. */
  inFull?: boolean;
  /** More controls at the end of the row. */
  children?: React.ReactNode;
};

/** One task: its tick, what to do, for whom, when. */
export function TaskRow({ task, withoutCross = false, inFull = false, children }: RowProps) {
  const { cross, shared, amount, who, fromI, state, yard } = task;
  const carry = inFull && state !== 'done' ? carryWords(task) : '';
  return (
    <li className={`task ${state}`}>
      <Tick task={task} />
      <div className="task-what">
        <span className="task-words">{taskWords(task)}</span>
        <span className="task-about">
          <When task={task} />
          {fromI === null ? null : <span className="from-i">{fromIWords(fromI)}</span>}
          {who.length === 0 ? null : <span className="code">{who.join(', ')}</span>}
          {amount === null ? null : <span>{say(`task.${amount.what}`, { n: amount.n })}</span>}
          {inFull && yard !== null ? <span>{yard}</span> : null}
          {carry === '' ? null : (
            <span>
              {say('today.bring')} {carry}
            </span>
          )}
          {(cross === null ? shared : withoutCross ? [] : [cross]).map(({ id, code }) => (
            <Link key={id} to="/rearing/countback/$cross" params={{ cross: id }}>
              {say('cross.named', { code })}
            </Link>
          ))}
          <TaskDoor task={task} />
        </span>
      </div>
      {children}
    </li>
  );
}

/** A list of tasks. */
export const TaskList = ({ tasks, withoutCross }: { tasks: readonly TaskLine[]; withoutCross?: boolean }) => (
  <ul className="tasks">
    {tasks.map((task) => (
      <TaskRow key={task.id} task={task} withoutCross={withoutCross ?? false} />
    ))}
  </ul>
);
