import '../style/bench.css';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { changeBenchDay } from '#actions/bench/change-bench-day.ts';
import { giveCo2 } from '#actions/bench/give-co2.ts';
import { noteAtBench } from '#actions/bench/note-at-bench.ts';
import { queueQueens } from '#actions/bench/queue-queens.ts';
import { salineBatches } from '#questions/bench/saline-batches.ts';
import { type SetOut, type SetOutCross, setOut } from '#questions/bench/set-out.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { ChooseQueens, ChooseRecord } from '../parts/choose-record.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { Form, NumberField, TextField } from '../parts/form.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { BenchCautions } from './cautions.tsx';
import { Checklist, setOutItems } from './checklist.tsx';
import { QueueForm } from './queue-form.tsx';

function DayForm({ setOut: { day, nextTip } }: { setOut: SetOut }) {
  const [place, setPlace] = useState(day.place ?? '');
  const [gas, setGas] = useState(day.gas_bottle ?? '');
  const [operator, setOperator] = useState<string | null>(day.operator);
  const [saline, setSaline] = useState<string | null>(day.saline);
  const [tip, setTip] = useState<number | null>(day.first_tip ?? nextTip);
  const { data } = useAsk(chooseOthers, {});
  const { run, problems, busy } = useDo();
  const record = async () => {
    const did = await run(changeBenchDay, {
      bench_day: day.id,
      place: place.trim() === '' ? null : place.trim(),
      gas_bottle: gas.trim() === '' ? null : gas.trim(),
      operator: operator as RecordId | null,
      saline: saline as RecordId | null,
      first_tip: tip,
    });
    if ('result' in did) tell(say('bench.day.saved'));
  };
  return (
    <Form act={say('bench.day.save')} onSubmit={record} problems={problems} busy={busy} label={say('bench.day')}>
      <div className="fields">
        <TextField label={say('bench.days.place')} value={place} onChange={setPlace} at="place" />
        <ChooseRecord
          label={say('bench.days.operator')}
          items={data?.persons ?? []}
          value={operator}
          onChange={setOperator}
        />
        <SalineField value={saline} onChange={setSaline} />
        <TextField label={say('bench.day.gas')} value={gas} onChange={setGas} at="gas_bottle" />
        <NumberField label={say('bench.day.first-tip')} value={tip} onChange={setTip} at="first_tip" />
      </div>
    </Form>
  );
}

function SalineField({ value, onChange }: { value: string | null; onChange: (id: string | null) => void }) {
  const { data } = useAsk(salineBatches, {});
  const items = (data?.batches ?? []).map(({ id, code, madeOn, antibiotic }) => ({
    id,
    code,
    beside: [madeOn ?? '', antibiotic === null || antibiotic === 'none' ? '' : antibiotic].filter(Boolean).join(' · '),
  }));
  return (
    <ChooseRecord
      label={say('bench.day.saline')}
      items={items}
      value={value}
      onChange={onChange}
      hint={say('bench.day.saline-hint')}
    />
  );
}

function Co2Form({ cross, day }: { cross: SetOutCross; day: string }) {
  const missing = cross.queue.filter(({ co2, status }) => co2 === 0 && status === 'waiting');
  const [minutes, setMinutes] = useState<number | null>(2);
  const { run, busy } = useDo();
  if (missing.length === 0) return null;
  const record = async () => {
    const did = await run(
      giveCo2,
      {
        bench_day: day as RecordId,
        queens: missing.map(({ face }) => face.id as RecordId),
        relation: 'before',
        ...(minutes === null ? {} : { minutes }),
      },
      { happened: true },
    );
    if ('result' in did) tell(say('bench.co2-done', { n: missing.length }));
  };
  return (
    <div className="co2">
      <p>{say('bench.co2-missing', { n: missing.length })}</p>
      <div className="cluster">
        <NumberField
          label={say('bench.panel.gas-minutes')}
          unit={say('bench.minutes')}
          value={minutes}
          onChange={setMinutes}
        />
        <button type="button" className="button" disabled={busy} onClick={() => void record()}>
          {say('bench.co2-give', { n: missing.length })}
        </button>
      </div>
    </div>
  );
}

function CrossSection({ cross, setOut: { day } }: { cross: SetOutCross; setOut: SetOut }) {
  const open = day.closed === null;
  const need = cross.queue.filter(({ status }) => status === 'waiting').length * cross.dose;
  const have = cross.tubes.filter(({ condemned }) => !condemned).reduce((sum, { left }) => sum + Math.max(0, left), 0);
  return (
    <section className="sheet stack" aria-labelledby={`cross-${cross.id}`}>
      <div className="spread">
        <h2 id={`cross-${cross.id}`}>
          {say('bench.cross')} <span className="code">{cross.code}</span>
        </h2>
        {cross.queue.length > 0 ? (
          <Link to={`/bench/${day.id}/board/${cross.id}`} className="button main">
            {say('bench.to-board')}
          </Link>
        ) : null}
      </div>
      <p>
        {say('bench.cross-says', {
          dose: cross.dose.toFixed(1),
          mothers: cross.droneSide || '–',
          wanted: cross.wanted,
        })}
        {cross.purpose === null ? '' : ` ${cross.purpose}`}
      </p>
      <p className={have + 1e-9 < need ? 'problem' : 'note'}>
        {say('bench.need-have', { need: need.toFixed(1), have: have.toFixed(1) })}
      </p>
      <ul className="plain-list">
        {cross.tubes.map(({ id, code, left, doses, mothers, condemned }) => (
          <li key={id}>
            <Link to={`/semen/tube/${id}`} className="code">
              {code}
            </Link>{' '}
            {condemned
              ? say('semen.condemned')
              : `${say('semen.left-doses', { left: left.toFixed(1), doses })} · ${mothers}`}
          </li>
        ))}
      </ul>
      {cross.tubes.length === 0 ? (
        <p>
          {say('bench.no-tubes')} <Link to={`/semen/tally?bench_day=${day.id}`}>{say('semen.nav.tally')}</Link>
        </p>
      ) : null}
      <QueueForm cross={cross} benchDay={day.id} open={open} />
      <Co2Form cross={cross} day={day.id} />
    </section>
  );
}

/** A cross of another day comes to the bench with its first queens. */
function AddCross({ setOut: { day, others } }: { setOut: SetOut }) {
  const [cross, setCross] = useState<string | null>(null);
  const [queens, setQueens] = useState<string[]>([]);
  const { run, problems, busy } = useDo();
  if (others.length === 0 || day.closed !== null) return null;
  const record = async () => {
    const did = await run(queueQueens, {
      bench_day: day.id,
      cross: cross as RecordId,
      queens: queens.map((queen) => ({ queen: queen as RecordId })),
    });
    if ('problems' in did) return;
    setCross(null);
    setQueens([]);
  };
  return (
    <Form
      act={say('bench.add-cross-act')}
      onSubmit={record}
      problems={problems}
      busy={busy}
      label={say('bench.add-cross')}
    >
      <ChooseRecord
        label={say('bench.add-cross')}
        items={others.map(({ id, code, day: on }) => ({ id, code, beside: on === null ? '' : dayWords(on) }))}
        value={cross}
        onChange={setCross}
        at="cross"
      />
      <ChooseQueens label={say('bench.queue.add')} values={queens} onChange={setQueens} />
    </Form>
  );
}

/** The set-out of a bench day: the day itself, a short list, each cross with its queue, carbon dioxide and tubes, and its cautions. */
export function SetOutPage() {
  const { day } = useParams({ strict: false });
  const id = day as RecordId;
  const query = useAsk(setOut, { bench_day: id });
  const { run } = useDo();
  const navigate = useNavigate();
  useKeys(
    useMemo(() => ({ P: () => window.open(withInput('/api/paper/bench-sheet', { bench_day: id }), '_blank') }), [id]),
  );
  const tick = (words: string) => void run(noteAtBench, { bench_day: id, what: 'set-out', words }, { happened: true });
  return (
    <Asked query={query}>
      {({ day: answer }) =>
        answer === null ? (
          <NoPage />
        ) : (
          <section className="stack wide">
            <div className="spread">
              <h1>{say('bench.day-of', { day: dayWords(answer.day.day) })}</h1>
              <nav className="cluster" aria-label={say('bench.nav')}>
                <a
                  className="button"
                  href={withInput('/api/paper/bench-sheet', { bench_day: id })}
                  target="_blank"
                  rel="noreferrer"
                >
                  {say('bench.print-sheet')} <kbd>P</kbd>
                </a>
                <a
                  className="button"
                  href={withInput('/api/paper/home-slip', { bench_day: id })}
                  target="_blank"
                  rel="noreferrer"
                >
                  {say('bench.print-home')}
                </a>
                <button type="button" className="button" onClick={() => void navigate({ to: `/bench/${id}/paper` })}>
                  {say('bench.from-paper')}
                </button>
                <button type="button" className="button" onClick={() => void navigate({ to: `/bench/${id}/put-away` })}>
                  {say('bench.put-away')}
                </button>
              </nav>
            </div>
            {answer.day.closed === null ? null : (
              <p>{say('bench.closed-at', { at: answer.day.closed.slice(11, 16) })}</p>
            )}
            <div className="two-up">
              <DayForm setOut={answer} key={answer.day.id} />
              <div className="stack">
                <Checklist
                  title={say('bench.set-out')}
                  prefix="bench.set-out"
                  items={setOutItems}
                  ticked={answer.ticked}
                  onTick={tick}
                />
                <BenchCautions />
              </div>
            </div>
            {answer.crosses.map((cross) => (
              <CrossSection key={cross.id} cross={cross} setOut={answer} />
            ))}
            {answer.crosses.length === 0 ? <p>{say('bench.no-crosses')}</p> : null}
            <AddCross setOut={answer} />
          </section>
        )
      }
    </Asked>
  );
}
