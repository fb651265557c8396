import { useParams } from '@tanstack/react-router';
import { useRef } from 'react';
import { Button } from 'react-aria-components';
import { stepBack } from '#actions/history/step-back.ts';
import { type HistoryAct, history } from '#questions/edge/history.ts';
import { dayOfMoment, type Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { dayWords } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import type { SaidProblem } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { Problems } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';

type Changes = HistoryAct['changes'];

function OldAndNew({ changes }: { changes: Changes }) {
  const lines = changes.flatMap(({ kind, before, after }) =>
    Object.keys(after ?? before ?? {}).flatMap((field) => {
      const was = before?.[field] ?? null;
      const is = after?.[field] ?? null;
      return was === is ? [] : [{ key: `${kind} ${field}`, kind, field, was, is }];
    }),
  );
  return (
    <ul className="old-and-new">
      {lines.map(({ key, kind, field, was, is }) => (
        <li key={key}>
          <span className="soft">
            {sayAny(`kind.${kind}`)} · {field}
          </span>{' '}
          {was === null ? '' : <s>{String(was)}</s>} {is === null ? say('history.nothing') : <span>{String(is)}</span>}
        </li>
      ))}
    </ul>
  );
}

function ActRow({ act, onStepBack }: { act: HistoryAct; onStepBack: (act: HistoryAct) => void }) {
  const gone = act.steppedBackBy !== null;
  return (
    <tr>
      <td className="number">{act.seq}</td>
      <td>
        {gone ? <s>{sayAny(`action.${act.what}`)}</s> : sayAny(`action.${act.what}`)}
        {act.changes.length > 0 ? <OldAndNew changes={act.changes} /> : null}
      </td>
      <td>{act.who ?? ''}</td>
      <td className="figures">
        <time dateTime={act.done.slice(0, 16)}>
          {dayWords(dayOfMoment(act.done as Moment), today())}, {act.done.slice(11, 16)}
        </time>
      </td>
      <td>
        {gone ? (
          <span className="soft">{say('history.stepped-back')}</span>
        ) : (
          <Button className="button" onPress={() => onStepBack(act)}>
            {say('history.step-back')}
          </Button>
        )}
      </td>
    </tr>
  );
}

/** Acts named one by one before the rest is counted. */
const MOST_NAMED = 10;

/** The later acts that keep an act from being stepped back alone. It takes the focus when it appears. */
function BuiltOn({ acts }: { acts: readonly SaidProblem[] }) {
  if (acts.length === 0) return null;
  return (
    <div className="problems" role="alert" tabIndex={-1} ref={(box) => box?.focus()}>
      <h2>{say('history.refused')}</h2>
      <p>{say('history.built-on', { n: acts.length })}</p>
      <ul>
        {acts.slice(0, MOST_NAMED).map(({ values }) => (
          <li key={String(values.seq)}>
            {say('history.built-on-act', { seq: values.seq ?? '', what: sayAny(`action.${values.name}`) })}
          </li>
        ))}
        {acts.length > MOST_NAMED ? <li>{say('history.more', { n: acts.length - MOST_NAMED })}</li> : null}
      </ul>
    </div>
  );
}

/** What was done, newest first; for one record with every old and new value. Any act can be put back from here. */
export function HistoryPage() {
  const { record } = useParams({ strict: false });
  const query = useAsk(history, record === undefined ? {} : { record: record as RecordId });
  const { run, problems, busy } = useDo();
  const blocked = problems.filter(({ code }) => code === 'built-on');
  const last = useRef<HistoryAct | null>(null);
  const back = (act: HistoryAct, with_later = false) => {
    last.current = act;
    void run(stepBack, { act: act.id as RecordId, with_later }).then((did) => {
      if ('result' in did && did.result !== null) tell(say('history.went-back', { n: did.result.steppedBack.length }));
    });
  };
  return (
    <section className="stack">
      <h1>{record === undefined ? say('edge.history') : say('history.of-record')}</h1>
      <Problems problems={problems.filter(({ code }) => code !== 'built-on')} title={say('history.refused')} />
      <BuiltOn acts={blocked} />
      {blocked.length > 0 && last.current !== null ? (
        <Button
          className="button main"
          isDisabled={busy}
          onPress={() => last.current !== null && back(last.current, true)}
        >
          {say('history.with-later')}
        </Button>
      ) : null}
      <Asked query={query}>
        {({ acts }) => (
          <table className="book">
            <thead>
              <tr>
                <th scope="col" className="number">
                  {say('history.number')}
                </th>
                <th scope="col">{say('history.what')}</th>
                <th scope="col">{say('history.who')}</th>
                <th scope="col">{say('history.when')}</th>
                <th scope="col">{say('history.put-back')}</th>
              </tr>
            </thead>
            <tbody>
              {acts.map((act) => (
                <ActRow key={act.id} act={act} onStepBack={back} />
              ))}
            </tbody>
          </table>
        )}
      </Asked>
    </section>
  );
}
