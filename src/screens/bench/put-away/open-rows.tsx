import { useState } from 'react';
import { home } from '#actions/bench/home.ts';
import { sayWhyStopped } from '#actions/bench/say-why-stopped.ts';
import { settleFlag } from '#actions/bench/settle-flag.ts';
import { settleWorry } from '#actions/history/settle-worry.ts';
import { type ExceptionKind, exceptionKinds } from '#domain/insemination/exception.ts';
import type { BenchSummary, DoneQueen } from '#questions/bench/bench-summary.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny, sayProblem } from '#words/say.ts';
import { useAsk } from '../../link/use-ask.ts';
import { useDo } from '../../link/use-do.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';

/** A flagged queen whose reason is asked now. */
export function FlagRow({ queen }: { queen: DoneQueen }) {
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

/** A queen not seen going back in: into her nuc, or only into her cage. */
export function HomeRow({ queen }: { queen: DoneQueen }) {
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

/** A STOP, passed or taken away: how it came about. */
export function StopRow({ stop }: { stop: BenchSummary['stops'][number] }) {
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

/** A doubt about something that was recorded. */
export function WorryRow({ worry }: { worry: BenchSummary['worries'][number] }) {
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
