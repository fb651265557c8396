import '../style/bench.css';
import { Link, useParams } from '@tanstack/react-router';
import { useState } from 'react';
import { closeBenchDay } from '#actions/bench/close-bench-day.ts';
import { home } from '#actions/bench/home.ts';
import { sayWhyStopped } from '#actions/bench/say-why-stopped.ts';
import { settleFlag } from '#actions/bench/settle-flag.ts';
import { settleWorry } from '#actions/history/settle-worry.ts';
import { type ExceptionKind, exceptionKinds } from '#domain/insemination/exception.ts';
import { type BenchSummary, benchSummary, type DoneCross, type DoneQueen } from '#questions/bench/bench-summary.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny, sayProblem } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { numberTyped } from '../parts/form.tsx';
import { calledOf } from '../parts/identity-band.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { Problems } from '../parts/problems.tsx';
import { tell } from '../parts/told.tsx';
import { partsWords } from '../semen/semen-words.ts';
import { Checklist, putAwayItems } from './checklist.tsx';

const isUnexplained = ({ exceptions }: DoneQueen): boolean =>
  exceptions.some(({ kind, words }) => kind === 'flagged' && words === null);

function FlagRow({ queen }: { queen: DoneQueen }) {
  const [reason, setReason] = useState<ExceptionKind | ''>('');
  const { run, busy } = useDo();
  const record = () => {
    if (queen.insemination === null) return;
    const input = { insemination: queen.insemination as RecordId, ...(reason === '' ? {} : { reason }) };
    void run(settleFlag, input, { happened: true });
  };
  return (
    <li className="cluster">
      <strong className="code">{calledOf(queen.face)}</strong>
      <label>
        <span className="visually-hidden">{say('bench.away.reason-of', { queen: calledOf(queen.face) })}</span>
        <select value={reason} onChange={({ target }) => setReason(target.value as ExceptionKind | '')}>
          <option value="">{say('bench.away.nothing')}</option>
          {exceptionKinds
            .filter((kind) => kind !== 'flagged')
            .map((kind) => (
              <option key={kind} value={kind}>
                {sayAny(`exception.${kind}`)}
              </option>
            ))}
        </select>
      </label>
      <button type="button" className="button" disabled={busy} onClick={record}>
        {say('bench.away.that-was-it')}
      </button>
    </li>
  );
}

function HomeRow({ queen }: { queen: DoneQueen }) {
  const [nuc, setNuc] = useState(queen.home?.id ?? '');
  const [excluder, setExcluder] = useState(true);
  const { data } = useAsk(chooseOthers, {});
  const { run, busy, problems } = useDo();
  const goes = (colony: string | null) => {
    if (queen.insemination === null) return;
    const input = { insemination: queen.insemination as RecordId };
    void run(home, colony === null ? input : { ...input, colony: colony as RecordId, excluder }, { happened: true });
  };
  return (
    <li className="cluster">
      <strong className="code">{calledOf(queen.face)}</strong>
      {queen.cage === null ? null : <span>{say('bench.cage', { cage: queen.cage })}</span>}
      <label>
        <span className="visually-hidden">{say('bench.queue.home')}</span>
        <select value={nuc} onChange={({ target }) => setNuc(target.value)}>
          <option value="">{say('bench.away.nuc')}</option>
          {(data?.colonies ?? []).map(({ id, code }) => (
            <option key={id} value={id}>
              {code}
            </option>
          ))}
        </select>
      </label>
      <label className="tick">
        <input type="checkbox" checked={excluder} onChange={({ target }) => setExcluder(target.checked)} />
        {say('bench.away.excluder')}
      </label>
      <button type="button" className="button" disabled={busy || nuc === ''} onClick={() => goes(nuc)}>
        {say('bench.away.home')}
      </button>
      <button type="button" className="button quiet" disabled={busy} onClick={() => goes(null)}>
        {say('bench.away.in-cage')}
      </button>
      <Problems problems={problems} title={say('form.not-kept')} />
    </li>
  );
}

function StopRow({ stop }: { stop: BenchSummary['stops'][number] }) {
  const [reason, setReason] = useState('');
  const { run, busy } = useDo();
  return (
    <li className="cluster">
      <span>
        {say(stop.passed ? 'bench.away.passed' : 'bench.away.taken', {
          label: stop.label,
          at: stop.moment.slice(11, 16),
        })}
      </span>
      {stop.reason === null ? (
        <>
          <label>
            <span className="visually-hidden">{say('bench.away.why')}</span>
            <input
              className="reason"
              value={reason}
              placeholder={say('bench.away.why')}
              onChange={({ target }) => setReason(target.value)}
            />
          </label>
          <button
            type="button"
            className="button"
            disabled={busy || reason.trim() === ''}
            onClick={() => void run(sayWhyStopped, { event: stop.id as RecordId, reason }, { happened: true })}
          >
            {say('bench.away.say-why')}
          </button>
        </>
      ) : (
        <em>{stop.reason}</em>
      )}
    </li>
  );
}

function WorryRow({ worry }: { worry: BenchSummary['worries'][number] }) {
  const [how, setHow] = useState('');
  const { run, busy } = useDo();
  return (
    <li className="cluster">
      <span>{sayProblem({ code: worry.code, values: JSON.parse(worry.said) as Record<string, string | number> })}</span>
      <label>
        <span className="visually-hidden">{say('bench.away.how')}</span>
        <input
          className="reason"
          value={how}
          placeholder={say('bench.away.how')}
          onChange={({ target }) => setHow(target.value)}
        />
      </label>
      <button
        type="button"
        className="button"
        disabled={busy || how.trim() === ''}
        onClick={() => void run(settleWorry, { worry: worry.id as RecordId, how })}
      >
        {say('bench.away.settle')}
      </button>
    </li>
  );
}

function counts(all: Readonly<Record<string, number>>, prefix: string): string {
  const words = Object.entries(all).map(([kind, n]) => `${sayAny(`${prefix}.${kind}`)} ${n}`);
  return words.length === 0 ? say('bench.away.none') : words.join(', ');
}

function CrossSummary({ cross }: { cross: DoneCross }) {
  const mean = cross.doses > 0 ? (cross.microlitres / cross.doses).toFixed(2) : '–';
  return (
    <section className="sheet stack tight">
      <h2>
        {say('bench.cross')} <span className="code">{cross.code}</span>
      </h2>
      <p>{say('bench.away.doses', { n: cross.doses, volume: cross.microlitres.toFixed(1), mean })}</p>
      <dl className="facts">
        <dt>{say('bench.away.exceptions')}</dt>
        <dd>{counts(cross.exceptions, 'exception')}</dd>
        <dt>{say('bench.away.not-done')}</dt>
        <dd>{counts(cross.notDone, 'not-done')}</dd>
        <dt>{say('bench.away.mothers')}</dt>
        <dd>
          {cross.mothers.length === 0 ? say('semen.nobody-knows') : partsWords(cross.mothers)}
          {cross.mothers.length === 0
            ? ''
            : ` (${cross.mothers.map(({ drones }) => say('bench.away.drones', { n: Math.round(drones) })).join(', ')})`}
        </dd>
      </dl>
      <ol className="done-queens">
        {cross.queens.map((queen) => (
          <li key={queen.face.id}>
            <span aria-hidden="true">{queen.done === null ? '○' : queen.done ? (queen.closed ? '●' : '◐') : '◌'}</span>{' '}
            <Link to={`/stock/queen/${queen.face.id}`} className="code">
              {calledOf(queen.face)}
            </Link>{' '}
            {queen.done === null
              ? say('bench.away.waits')
              : queen.done
                ? `${(queen.given ?? 0).toFixed(1)} µl · ${queen.draws.map(({ tube }) => tube).join(' + ')} · ${say('bench.tip', { tip: queen.tip ?? '–' })}`
                : sayAny(`not-done.${queen.why ?? 'other'}`)}
            {queen.exceptions.length === 0
              ? ''
              : ` · ${queen.exceptions.map(({ kind }) => sayAny(`exception.${kind}`)).join(', ')}`}
            {queen.done === true && !queen.closed ? ` · ${say('bench.away.not-back')}` : ''}
          </li>
        ))}
      </ol>
    </section>
  );
}

function Close({ summary }: { summary: BenchSummary }) {
  const [read, setRead] = useState<Record<string, string>>({});
  const [ticked, setTicked] = useState<string[]>([]);
  const { run, busy, problems } = useDo();
  const record = async () => {
    const remeasured = Object.entries(read).flatMap(([tube, text]) => {
      const microlitres = numberTyped(text);
      return microlitres === null ? [] : [{ tube: tube as RecordId, microlitres }];
    });
    const did = await run(closeBenchDay, { bench_day: summary.day.id, ticked, remeasured }, { happened: true });
    if ('result' in did) tell(say('bench.away.done'));
  };
  if (summary.day.closed !== null) return <p>{say('bench.closed-at', { at: summary.day.closed.slice(11, 16) })}</p>;
  return (
    <section className="stack tight">
      {summary.tubes.length === 0 ? null : (
        <fieldset className="checklist">
          <legend>{say('bench.away.tubes')}</legend>
          <ul>
            {summary.tubes.map(({ id, code, left, remeasured }) => (
              <li key={id}>
                <label className="cluster">
                  <strong className="code">{code}</strong> {say('bench.away.booked', { left: left.toFixed(1) })}
                  <span className="visually-hidden">{say('bench.away.read-now')}</span>
                  <input
                    className="bench-number"
                    inputMode="decimal"
                    value={read[id] ?? ''}
                    placeholder={remeasured ? '✓' : say('bench.away.read-now')}
                    onChange={({ target }) => setRead({ ...read, [id]: target.value })}
                  />{' '}
                  µl
                </label>
              </li>
            ))}
          </ul>
        </fieldset>
      )}
      <Checklist
        title={say('bench.put-away')}
        prefix="bench.put-away"
        items={putAwayItems}
        ticked={ticked}
        onTick={(item) => setTicked([...ticked, item])}
      />
      <Problems problems={problems} title={say('form.not-kept')} />
      <div className="cluster">
        <button type="button" className="button main" disabled={busy} onClick={() => void record()}>
          {say('bench.away.close')}
        </button>
      </div>
    </section>
  );
}

/** Putting the bench away: what is still open, the day in numbers, tubes measured again, the day closed. */
export function PutAwayPage() {
  const { day } = useParams({ strict: false });
  const query = useAsk(benchSummary, { bench_day: day as RecordId });
  return (
    <Asked query={query}>
      {({ summary }) => {
        if (summary === null) return <NoPage />;
        const all = summary.crosses.flatMap(({ queens }) => queens);
        const flagged = all.filter(isUnexplained);
        const away = all.filter(({ done, closed }) => done === true && !closed);
        const unsaid = summary.stops.filter(({ reason }) => reason === null);
        const isSettled = flagged.length + away.length + unsaid.length + summary.worries.length === 0;
        return (
          <section className="stack wide">
            <p>
              <Link to={`/bench/${summary.day.id}`}>{say('bench.day-of', { day: dayWords(summary.day.day) })}</Link>
            </p>
            <div className="spread">
              <h1>{say('bench.put-away')}</h1>
              <a
                className="button"
                href={withInput('/api/paper/home-slip', { bench_day: summary.day.id })}
                target="_blank"
                rel="noreferrer"
              >
                {say('bench.print-home')}
              </a>
            </div>
            <section className="stack tight" aria-labelledby="open-things">
              <h2 id="open-things">{say('bench.away.open')}</h2>
              {isSettled ? <p>{say('bench.away.all-settled')}</p> : null}
              <ul className="plain-list">
                {flagged.map((queen) => (
                  <FlagRow key={queen.face.id} queen={queen} />
                ))}
                {away.map((queen) => (
                  <HomeRow key={queen.face.id} queen={queen} />
                ))}
                {summary.stops.map((stop) => (
                  <StopRow key={stop.id} stop={stop} />
                ))}
                {summary.worries.map((worry) => (
                  <WorryRow key={worry.id} worry={worry} />
                ))}
              </ul>
            </section>
            {summary.crosses.map((cross) => (
              <CrossSummary key={cross.id} cross={cross} />
            ))}
            <Close summary={summary} />
          </section>
        );
      }}
    </Asked>
  );
}
