import '../style/semen.css';
import { Link, useNavigate, useSearch } from '@tanstack/react-router';
import { useState } from 'react';
import { tallyDrones } from '#actions/semen/tally-drones.ts';
import { say, sayAny } from '#words/say.ts';
import { useDoOrKeep } from '../link/outbox/use-do-or-keep.ts';
import { Form, NumberField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { CountPanel } from './count-panel.tsx';
import { SourceRow } from './source-row.tsx';
import {
  catchReasons,
  gaveIn,
  isUntouched,
  keepTally,
  keptTally,
  newTally,
  newTallyTube,
  type TallyState,
  tallyInput,
} from './tally-state.ts';
import { TallyTubeRow } from './tally-tube-row.tsx';

/** A catch of drones tallied: whose they are, how many gave, into which tubes. Kept at every press, recorded as one act. */
export function TallyPage() {
  const { bench_day } = useSearch({ strict: false }) as { bench_day?: string };
  const [state, setState] = useState<TallyState>(keptTally);
  const [counting, setCounting] = useState(false);
  const [cleared, setCleared] = useState<TallyState | null>(null);
  const { runOrKeep, problems, busy } = useDoOrKeep();
  const navigate = useNavigate();
  const put = (next: TallyState) => {
    keepTally(next);
    setState(next);
    setCleared(null);
  };
  const startOver = () => {
    put(newTally());
    setCleared(state);
  };
  const replaced = <T,>(list: readonly T[], at: number, next: T): T[] =>
    list.map((each, i) => (i === at ? next : each));
  const record = async () => {
    const did = await runOrKeep(
      tallyDrones,
      tallyInput(state, bench_day ?? null) as Parameters<typeof tallyDrones.run>[0],
    );
    if ('problems' in did) return;
    keepTally(null);
    setState(newTally());
    tell(say('kept' in did ? 'semen.tally.kept' : 'semen.tally.done'));
    void navigate({ to: bench_day === undefined ? '/semen' : `/bench/${bench_day}` });
  };
  if (counting) return <CountPanel state={state} put={put} onClose={() => setCounting(false)} />;
  return (
    <section className="stack">
      <p>
        <Link to="/semen">{say('place.semen')}</Link>
      </p>
      <h1>{say('semen.tally.title')}</h1>
      <p>{say('semen.tally.how')}</p>
      {isUntouched(state) ? null : (
        <p className="cluster">
          {say('semen.tally.begun')}
          <button type="button" className="button quiet" onClick={startOver}>
            {say('semen.tally.start-over')}
          </button>
        </p>
      )}
      {cleared === null ? null : (
        <p className="cluster" role="status">
          {say('semen.tally.cleared')}
          <button type="button" className="button quiet" onClick={() => put(cleared)}>
            {say('semen.tally.put-back')}
          </button>
        </p>
      )}
      <Form act={say('semen.tally.record')} onSubmit={record} problems={problems} busy={busy}>
        <fieldset>
          <legend>{say('semen.tally.drones')}</legend>
          {state.sources.map((source, i) => (
            <SourceRow
              key={i}
              source={source}
              many={state.sources.length > 1}
              at={i}
              put={(next) => put({ ...state, sources: replaced(state.sources, i, next) })}
              remove={
                state.sources.length < 2
                  ? null
                  : () => put({ ...state, sources: state.sources.filter((_, k) => k !== i) })
              }
            />
          ))}
          <button
            type="button"
            className="button quiet"
            onClick={() =>
              put({ ...state, sources: [...state.sources, { kind: 'mother', id: null, share: null, toldApart: '' }] })
            }
          >
            {say('semen.tally.another-mother')}
          </button>
          <div className="fields">
            <NumberField
              label={say('semen.tally.taken')}
              value={state.taken}
              at="taken"
              onChange={(taken) => put({ ...state, taken })}
            />
            <NumberField
              label={say('semen.tally.left-over')}
              value={state.leftOver}
              at="left_over"
              onChange={(leftOver) => put({ ...state, leftOver })}
            />
          </div>
          <details open={catchReasons.some((reason) => (state.reasons[reason] ?? 0) > 0)}>
            <summary>{say('semen.tally.reasons')}</summary>
            <div className="fields">
              {catchReasons.map((reason) => (
                <NumberField
                  key={reason}
                  label={sayAny(`semen.reason.${reason}`)}
                  value={state.reasons[reason] ?? 0}
                  onChange={(n) =>
                    put({ ...state, reasons: { ...state.reasons, [reason]: Math.max(0, Math.round(n ?? 0)) } })
                  }
                />
              ))}
            </div>
          </details>
          <details>
            <summary>{say('semen.tally.more')}</summary>
            <div className="fields">
              <NumberField
                label={say('semen.tally.age-from')}
                value={state.ageFrom}
                at="age_from"
                onChange={(ageFrom) => put({ ...state, ageFrom })}
              />
              <NumberField
                label={say('semen.tally.age-to')}
                value={state.ageTo}
                at="age_to"
                onChange={(ageTo) => put({ ...state, ageTo })}
              />
              <NumberField
                label={say('semen.tally.strangers')}
                unit="%"
                value={state.strangers}
                at="stranger_share"
                onChange={(strangers) => put({ ...state, strangers })}
              />
            </div>
          </details>
        </fieldset>
        <div className="tally-call">
          <span className="tally-number figures">{gaveIn(state)}</span>
          <span>{say('semen.tally.gave', { n: gaveIn(state) })}</span>
          <button type="button" className="button main" onClick={() => setCounting(true)}>
            {say('semen.tally.count')}
          </button>
        </div>
        {state.tubes.map((tube, i) => (
          <TallyTubeRow
            key={i}
            tube={tube}
            at={i}
            state={state}
            put={(next) => put({ ...state, tubes: replaced(state.tubes, i, next) })}
          />
        ))}
        <button
          type="button"
          className="button quiet"
          onClick={() => put({ ...state, tubes: [...state.tubes, newTallyTube()] })}
        >
          {say('semen.tally.another-tube')}
        </button>
        <p className="caution">
          <span>{say('semen.caution.glass-head')}</span> {say('semen.caution.glass')}
        </p>
      </Form>
    </section>
  );
}
