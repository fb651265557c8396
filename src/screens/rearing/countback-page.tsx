import { Link, useParams } from '@tanstack/react-router';
import { useCallback, useMemo, useState } from 'react';
import { changeCross } from '#actions/crosses/change-cross.ts';
import { countBackCross } from '#actions/rearing/count-back.ts';
import { moveTask } from '#actions/rearing/move-task.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import { raisingShift } from '#domain/rearing/reality/raising-shift.ts';
import { isTiedToBiology } from '#domain/rearing/task-sides.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { type Countback, countback } from '#questions/rearing/countback.ts';
import { lanesOf } from '#questions/rearing/lanes.ts';
import type { TaskLine } from '#questions/today/task-line.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { dayAndDistance } from '../crosses/cross-words.ts';
import { withInput } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { DayField } from '../parts/day-words.tsx';
import { Form } from '../parts/form.tsx';
import { Problems, sayRefusals } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { TaskRow } from '../today/task-row.tsx';
import { spanWords } from '../today/task-words.ts';
import { ChancesPanel } from './chances-panel.tsx';
import { CountAgain } from './count-again.tsx';
import { HowMany } from './how-many.tsx';
import { LanesDrawing } from './lanes-drawing.tsx';
import { MoveBar } from './move-bar.tsx';
import { MoveOutlook } from './move-outlook.tsx';
import { fieldsOf, type Handle, isMoved, type Moves, movedAsFar, movedWish, unmoved } from './moves.ts';
import { PlanWarnings } from './too-near.tsx';

const wallSheet = (cross: string) => withInput('/api/paper/countback-sheet', { cross, today: today() });
const calendarOf = (cross: string) => withInput('/api/paper/countback-calendar', { cross, today: today() });

/** A day earlier or later for a task that nothing alive ties to its day. */
function TaskMoves({ task }: { task: TaskLine }) {
  const { run, busy } = useDo();
  if (task.state === 'done' || task.state === 'cancelled' || isTiedToBiology(task.key)) return null;
  const step = async (by: number) => {
    const did = await run(moveTask, { task: task.id as RecordId, by });
    if ('problems' in did) tell(sayRefusals(did.problems));
  };
  const words = taskWords(task);
  return (
    <span className="task-moves">
      <button
        type="button"
        className="button step"
        aria-disabled={busy}
        aria-label={say('move.task-earlier', { task: words })}
        onClick={() => void step(-1)}
      >
        ‹
      </button>
      <button
        type="button"
        className="button step"
        aria-disabled={busy}
        aria-label={say('move.task-later', { task: words })}
        onClick={() => void step(1)}
      >
        ›
      </button>
    </span>
  );
}

/** Where a task would go with the moves that are not kept yet. */
function useGhostDays(wish: Wish | null): ReadonlyMap<string, { from: Day; to: Day }> {
  return useMemo(
    () => new Map(wish === null ? [] : countBack(wish).map(({ key, from, to }) => [key, { from, to }])),
    [wish],
  );
}

function TaskRail({ tasks, ghost }: { tasks: readonly TaskLine[]; ghost: Wish | null }) {
  const moved = useGhostDays(ghost);
  return (
    <section className="stack tight" aria-labelledby="tasks">
      <h2 id="tasks">{say('countback.tasks')}</h2>
      <ul className="tasks">
        {tasks.map((task) => {
          const to = task.state === 'done' ? undefined : moved.get(task.key);
          const goes = to !== undefined && (to.from !== task.from || to.to !== task.to);
          return (
            <TaskRow key={task.id} task={task} withoutCross inFull>
              {goes ? (
                <span className="ghost-day">{say('move.to', { day: spanWords(to.from, to.to) })}</span>
              ) : (
                <TaskMoves task={task} />
              )}
            </TaskRow>
          );
        })}
      </ul>
    </section>
  );
}

/** A cross without a day gets one here. */
function GiveDay({ cross }: { cross: Countback['cross'] }) {
  const { run, problems, busy } = useDo();
  const [day, setDay] = useState<Day | null>(null);
  const submit = () => run(countBackCross, { cross: cross.id, ...(day === null ? {} : { inseminate_on: day }) });
  return (
    <Form
      act={say('countback.count')}
      problems={problems.map((problem) => ({ ...problem, path: problem.path.replace('cross.', '') }))}
      busy={busy}
      onSubmit={submit}
    >
      <div className="fields one-column">
        <DayField label={say('cross.insemination-day')} value={day} onChange={setDay} at="inseminate_on" needed />
      </div>
    </Form>
  );
}

function Header({ countback: { cross } }: { countback: Countback }) {
  useKeys(useMemo(() => ({ P: () => void window.open(wallSheet(cross.id), '_blank', 'noopener') }), [cross.id]));
  return (
    <header className="cross-band">
      <h1>
        <Link to="/crosses/$cross" params={{ cross: cross.id }}>
          {say('cross.title', { code: cross.code })}
        </Link>
      </h1>
      <div className="facts">
        <strong>{cross.inseminate_on === null ? say('cross.no-day') : dayAndDistance(cross.inseminate_on)}</strong>
        <span>{say('cross.wanted', { n: cross.queens_wanted, dose: cross.dose_ul })}</span>
      </div>
      <div className="cluster">
        <a href={wallSheet(cross.id)} target="_blank" rel="noreferrer" className="button">
          {say('countback.sheet')} <kbd>P</kbd>
        </a>
        <a href={calendarOf(cross.id)} className="button" download>
          {say('countback.calendar')}
        </a>
      </div>
    </header>
  );
}

/** Lanes, moves, tasks and numbers of a cross that has a day. */
function Counted({ countback: answer, wish }: { countback: Countback; wish: Wish }) {
  const [moves, setMoves] = useState<Moves>(unmoved);
  const [held, setHeld] = useState<Handle>('day');
  const { run, problems, busy, clear } = useDo();
  const moved = useMemo(() => movedWish(wish, moves), [wish, moves]);
  const isOpen = answer.cross.cancelled !== 1;
  const ghost = isMoved(moves) ? moved : null;
  const lanes = useMemo(() => lanesOf(wish, answer.raising), [wish, answer.raising]);
  const ghostLanes = useMemo(
    () => (ghost === null ? null : lanesOf(ghost, answer.raising, raisingShift(wish, ghost))),
    [ghost, answer.raising, wish],
  );
  const fields = useMemo(() => fieldsOf(moved), [moved]);
  const move = useCallback(
    (handle: Handle, days: number) => {
      clear();
      setHeld(handle);
      setMoves((now) => movedAsFar(wish, now, { handle, days }));
    },
    [clear, wish],
  );
  const leave = useCallback(() => {
    clear();
    setMoves(unmoved);
  }, [clear]);
  const keep = useCallback(async () => {
    const did = await run(changeCross, { cross: answer.cross.id, set: fields });
    if ('problems' in did) return;
    setMoves(unmoved);
    tell(say('move.kept', { day: dayWords(moved.inseminate, today()) }));
  }, [run, answer.cross.id, moved, fields]);
  return (
    <>
      <LanesDrawing lanes={lanes} ghost={ghostLanes} {...(isOpen ? { drag: { moves, onMove: move } } : {})} />
      {isOpen ? (
        <MoveBar
          wish={moved}
          moves={moves}
          held={held}
          onMove={move}
          onLeave={leave}
          onKeep={() => void keep()}
          busy={busy}
        >
          {ghost === null ? null : <MoveOutlook cross={answer.cross} fields={fields} />}
        </MoveBar>
      ) : null}
      {answer.stale && isOpen ? <CountAgain cross={answer.cross.id} /> : null}
      <Problems problems={problems} title={say('move.refused')} />
      {ghost === null ? <PlanWarnings {...answer} /> : null}
      <div className="two-columns countback">
        <TaskRail tasks={answer.tasks} ghost={ghost} />
        <div className="stack">
          <ChancesPanel countback={answer} wish={wish} />
          <HowMany
            queens={answer.cross.queens_wanted}
            dose={answer.cross.dose_ul}
            doses={answer.cross.doses ?? 1}
            perDrone={1}
          />
        </div>
      </div>
    </>
  );
}

/** One cross counted back from its insemination day. */
export function CountbackPage() {
  const { cross } = useParams({ strict: false });
  const query = useAsk(countback, { cross: cross as RecordId, today: today() });
  return (
    <Asked query={query}>
      {(answer) =>
        answer === null ? (
          <p>
            {say('cross.unknown')} <Link to="/rearing">{say('place.rearing')}</Link>
          </p>
        ) : (
          <article className="stack">
            <Header countback={answer} />
            {answer.wish === null ? (
              <GiveDay cross={answer.cross} />
            ) : (
              <Counted countback={answer} wish={answer.wish} />
            )}
          </article>
        )
      }
    </Asked>
  );
}
