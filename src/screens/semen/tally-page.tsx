import '../style/semen.css';
import { Link, useNavigate, useSearch } from '@tanstack/react-router';
import { useState } from 'react';
import { tallyDrones } from '#actions/semen/tally-drones.ts';
import { rack } from '#questions/semen/rack.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import { say, sayAny } from '#words/say.ts';
import { useDoOrKeep } from '../link/outbox/use-do-or-keep.ts';
import { useAsk } from '../link/use-ask.ts';
import { type Choosable, ChooseQueen, ChooseRecord } from '../parts/choose-record.tsx';
import { Form, NumberField, SelectField, TextField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { CountPanel } from './count-panel.tsx';
import { partsWords } from './semen-words.ts';
import {
  collectedIn,
  gaveIn,
  keepTally,
  keptTally,
  newTally,
  newTallyTube,
  type TallySource,
  type TallyState,
  type TallyTube,
  tallyInput,
} from './tally-state.ts';

const kinds = ['mother', 'colony', 'sister_group'] as const;

function SourceRow({
  source,
  at,
  put,
  remove,
}: {
  source: TallySource;
  at: number;
  put: (next: TallySource) => void;
  remove: (() => void) | null;
}) {
  const { data } = useAsk(chooseOthers, {});
  const lists: Record<'colony' | 'sister_group', Choosable[]> = {
    colony: data?.colonies ?? [],
    sister_group: data?.groups ?? [],
  };
  const chosen = { value: source.id, onChange: (id: string | null) => put({ ...source, id }) };
  const label = say('semen.tally.whose', { n: at + 1 });
  return (
    <div className="fields">
      <SelectField
        label={say('semen.tally.told-by')}
        value={source.kind}
        onChange={(kind) => put({ ...source, kind, id: null })}
        choices={kinds.map((value) => ({ value, words: sayAny(`semen.tally.by.${value}`) }))}
      />
      {source.kind === 'mother' ? (
        <ChooseQueen label={label} which="all" at={`sources.${at}.mother`} {...chosen} />
      ) : (
        <ChooseRecord label={label} items={lists[source.kind]} at={`sources.${at}.${source.kind}`} {...chosen} />
      )}
      <NumberField
        label={say('semen.tally.share')}
        unit="%"
        value={source.share}
        onChange={(share) => put({ ...source, share })}
      />
      <TextField
        label={say('semen.tally.told-apart')}
        value={source.toldApart}
        onChange={(toldApart) => put({ ...source, toldApart })}
      />
      {remove === null ? null : (
        <button type="button" className="button quiet" onClick={remove}>
          {say('semen.tally.remove')}
        </button>
      )}
    </div>
  );
}

function TubeRow({
  tube,
  at,
  put,
  state,
}: {
  tube: TallyTube;
  at: number;
  put: (next: TallyTube) => void;
  state: TallyState;
}) {
  const { data } = useAsk(rack, { rule: 'oldest', dose: 8 });
  const tubes = data?.tubes ?? [];
  const held = tubes.find(({ id }) => id === tube.tube);
  const items: Choosable[] = tubes.map(({ id, code, left, mothers }) => ({
    id,
    code,
    beside: left > 0 ? `${left.toFixed(1)} µl · ${partsWords(mothers)}` : '',
  }));
  const collected = collectedIn(tube);
  return (
    <fieldset>
      <legend>{say('semen.tally.tube', { n: at + 1 })}</legend>
      <div className="fields">
        <ChooseRecord
          label={say('semen.tally.tube-known')}
          items={items}
          value={tube.tube}
          at={`into.${at}.tube`}
          onChange={(id) => {
            const chosen = tubes.find((each) => each.id === id);
            put({
              ...tube,
              tube: id,
              bore: chosen?.bore ?? tube.bore,
              start: chosen === undefined ? tube.start : Math.max(0, chosen.left),
            });
          }}
        />
        {tube.tube === null ? (
          <>
            <TextField
              label={say('semen.tally.tube-new')}
              code
              value={tube.code}
              at={`into.${at}.new.code`}
              onChange={(code) => put({ ...tube, code })}
            />
            <NumberField
              label={say('semen.bore')}
              unit="mm"
              value={tube.bore}
              at={`into.${at}.new.bore_mm`}
              onChange={(bore) => put({ ...tube, bore })}
            />
            <TextField label={say('semen.slot')} value={tube.slot} onChange={(slot) => put({ ...tube, slot })} />
          </>
        ) : null}
        <NumberField
          label={say('semen.tally.start')}
          unit={tube.unit}
          value={tube.start}
          at={`into.${at}.start`}
          onChange={(start) => put({ ...tube, start })}
        />
        <NumberField
          label={say('semen.tally.end')}
          unit={tube.unit}
          value={tube.end}
          at={`into.${at}.end`}
          onChange={(end) => put({ ...tube, end })}
        />
        {tube.bore === null ? null : (
          <SelectField
            label={say('semen.tally.read-in')}
            value={tube.unit}
            onChange={(unit) => put({ ...tube, unit })}
            choices={[
              { value: 'µl', words: 'µl' },
              { value: 'mm', words: 'mm' },
            ]}
          />
        )}
        <NumberField
          label={say('semen.tally.gave-here')}
          value={tube.gave}
          onChange={(gave) => put({ ...tube, gave: Math.max(0, Math.round(gave ?? 0)) })}
        />
        {state.sources.length < 2 ? null : (
          <SelectField
            label={say('semen.tally.of-mother')}
            value={tube.source === null ? '' : String(tube.source)}
            onChange={(value) => put({ ...tube, source: value === '' ? null : Number(value) })}
            choices={[
              { value: '', words: say('semen.tally.mixed') },
              ...state.sources.map((_, i) => ({ value: String(i), words: say('semen.tally.whose', { n: i + 1 }) })),
            ]}
          />
        )}
      </div>
      {collected === null ? null : <p className="note">{say('semen.tally.collected', { n: collected.toFixed(1) })}</p>}
      {held !== undefined && held.left > 0 ? (
        <p className="note">
          {say('semen.tally.in-it', { left: held.left.toFixed(1), mothers: partsWords(held.mothers) })}
        </p>
      ) : null}
      {held !== undefined && held.left > 0 && held.mixing === 'layered' ? (
        <p className="problem">{say('semen.tally.layers')}</p>
      ) : null}
    </fieldset>
  );
}

/** A catch of drones tallied: whose they are, how many gave, into which tubes. Kept at every press, recorded as one act. */
export function TallyPage() {
  const { bench_day } = useSearch({ strict: false }) as { bench_day?: string };
  const [state, setState] = useState<TallyState>(keptTally);
  const [counting, setCounting] = useState(false);
  const { runOrKeep, problems, busy } = useDoOrKeep();
  const navigate = useNavigate();
  const put = (next: TallyState) => {
    keepTally(next);
    setState(next);
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
      <Form act={say('semen.tally.record')} onSubmit={record} problems={problems} busy={busy}>
        <fieldset>
          <legend>{say('semen.tally.drones')}</legend>
          {state.sources.map((source, i) => (
            <SourceRow
              key={i}
              source={source}
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
        </fieldset>
        <div className="tally-call">
          <span className="tally-number figures">{gaveIn(state)}</span>
          <span>{say('semen.tally.gave', { n: gaveIn(state) })}</span>
          <button type="button" className="button main" onClick={() => setCounting(true)}>
            {say('semen.tally.count')}
          </button>
        </div>
        {state.tubes.map((tube, i) => (
          <TubeRow
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
