import '../style/bench.css';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { useState } from 'react';
import type { BenchEvent } from '#domain/insemination/bench-board.ts';
import {
  type ExceptionKind,
  exceptionKinds,
  type NotDoneReason,
  notDoneReasons,
} from '#domain/insemination/exception.ts';
import { type SetOutCross, type SetOutTube, setOut } from '#questions/bench/set-out.ts';
import { epochOf, parseMoment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { dayWords } from '../parts/day-words.tsx';
import { numberTyped } from '../parts/form.tsx';
import { calledOf } from '../parts/identity-band.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { tell } from '../parts/told.tsx';
import type { Session } from './board/session.ts';
import { useSession } from './board/use-session.ts';

/** One row of a paper sheet. Everything uneventful needs no entry at all. */
type SheetRow = {
  queen: string;
  called: string;
  cage: string | null;
  done: 'given' | NotDoneReason | 'later';
  dose: string;
  /** The tube it was drawn from; the next one of the rack where nothing is said. */
  tube: string | null;
  /** A new tip from this queen on. */
  newTip: boolean;
  exceptions: ExceptionKind[];
  back: boolean;
};

type Untimed = BenchEvent extends infer E ? (E extends unknown ? Omit<E, 'at'> : never) : never;

/** Mounts the tube the sheet names before the queen comes; it has happened, also where the board would have stopped. */
async function mounted(session: Session, tube: string, send: (event: Untimed) => Promise<void>): Promise<void> {
  if (session.state().board.facts.tube === tube) return;
  await send({ kind: 'presented', label: { kind: 'tube', id: tube } });
  if (session.state().board.stop !== null) await send({ kind: 'it-has-happened' });
}

/** The events of one row, as if the queen had come to the board: the same acts, the same doubts. */
async function playRow(session: Session, row: SheetRow, at: () => number): Promise<void> {
  const send = (event: Untimed) => session.handle({ ...event, at: at() } as BenchEvent);
  if (row.done === 'later') return;
  if (row.newTip) await send({ kind: 'tip' });
  if (row.tube !== null && row.done === 'given') await mounted(session, row.tube, send);
  await send({ kind: 'presented', label: { kind: 'queen', id: row.queen } });
  if (row.done !== 'given') {
    await send({ kind: 'not-done', reason: row.done });
    return;
  }
  const dose = numberTyped(row.dose);
  const { facts } = session.state().board;
  if (dose !== null && dose !== facts.dose) await send({ kind: 'dose', change: dose - facts.dose });
  const { outlook } = session.state();
  // A tube the sheet names is the one: what it lacks is a worry. Else what is left of it and the next one make the dose.
  if (row.tube === null && outlook?.left != null && outlook.left < session.state().board.facts.dose)
    await send({ kind: 'capillary' });
  for (const exception of row.exceptions) await send({ kind: 'exception', exception });
  await send({ kind: 'accept' });
  if (row.back) await send({ kind: 'presented', label: { kind: 'queen', id: row.queen } });
}

const rowsOf = ({ queue, dose }: SetOutCross): SheetRow[] =>
  queue
    .filter(({ status }) => status === 'waiting')
    .map(({ face, cage }) => ({
      queen: face.id,
      called: calledOf(face),
      cage,
      done: 'given',
      dose: dose.toFixed(1),
      tube: null,
      newTip: false,
      exceptions: [],
      back: true,
    }));

const MOST_MICROLITRES = 100;

/** A dose nobody can have given: it is asked for again, never replaced by the usual one. */
const isNoDose = ({ done, dose }: SheetRow): boolean => {
  const read = numberTyped(dose);
  return done === 'given' && (read === null || read <= 0 || read > MOST_MICROLITRES);
};

type RowProps = { row: SheetRow; tubes: readonly SetOutTube[]; put: (some: Partial<SheetRow>) => void };

function Row({ row, tubes, put }: RowProps) {
  const toggled = (kind: ExceptionKind) =>
    row.exceptions.includes(kind) ? row.exceptions.filter((each) => each !== kind) : [...row.exceptions, kind];
  return (
    <li>
      <span className="who">
        <strong className="code">{row.called}</strong>
        {row.cage === null ? null : <span>{say('bench.cage', { cage: row.cage })}</span>}
      </span>
      <label>
        <span className="note">{say('bench.sheet.done')}</span>
        <select value={row.done} onChange={({ target }) => put({ done: target.value as SheetRow['done'] })}>
          <option value="given">{say('bench.paper.given')}</option>
          {notDoneReasons.map((reason) => (
            <option key={reason} value={reason}>
              {sayAny(`not-done.${reason}`)}
            </option>
          ))}
          <option value="later">{say('bench.sheet.later')}</option>
        </select>
      </label>
      <label>
        <span className="note">µl</span>
        <input
          className="bench-number"
          inputMode="decimal"
          value={row.dose}
          aria-invalid={isNoDose(row)}
          onChange={({ target }) => put({ dose: target.value })}
        />
      </label>
      <label className="tick">
        <input
          type="checkbox"
          checked={row.exceptions.includes('leak')}
          onChange={() => put({ exceptions: toggled('leak') })}
        />
        {sayAny('exception.leak')}
      </label>
      <label>
        <span className="note">{say('bench.paper.other')}</span>
        <select
          value={row.exceptions.find((kind) => kind !== 'leak') ?? ''}
          onChange={({ target }) =>
            put({
              exceptions: [
                ...row.exceptions.filter((kind) => kind === 'leak'),
                ...(target.value === '' ? [] : [target.value as ExceptionKind]),
              ],
            })
          }
        >
          <option value="">–</option>
          {exceptionKinds.slice(1).map((kind) => (
            <option key={kind} value={kind}>
              {sayAny(`exception.${kind}`)}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span className="note">{say('bench.paper.tube')}</span>
        <select value={row.tube ?? ''} onChange={({ target }) => put({ tube: target.value || null })}>
          <option value="">{say('bench.paper.tube-next')}</option>
          {tubes.map(({ id, code, condemned }) => (
            <option key={id} value={id}>
              {code}
              {condemned ? ` · ${say('semen.condemned')}` : ''}
            </option>
          ))}
        </select>
      </label>
      <label className="tick">
        <input type="checkbox" checked={row.newTip} onChange={({ target }) => put({ newTip: target.checked })} />
        {say('bench.paper.new-tip')}
      </label>
      <label className="tick">
        <input type="checkbox" checked={row.back} onChange={({ target }) => put({ back: target.checked })} />
        {say('bench.paper.back')}
      </label>
    </li>
  );
}

const MINUTES_A_QUEEN = 5;

function SheetForm({
  day,
  zone,
  cross,
  onDone,
}: {
  day: string;
  zone: string;
  cross: SetOutCross;
  onDone: () => void;
}) {
  const { session } = useSession(day as RecordId, cross.id as RecordId);
  const [rows, setRows] = useState<SheetRow[]>(() => rowsOf(cross));
  const [began, setBegan] = useState('10:00');
  const [busy, setBusy] = useState(false);
  const { data } = useAsk(setOut, { bench_day: day as RecordId });
  const date = data?.day?.day.day ?? '';
  const start = parseMoment(`${date}T${began.padStart(5, '0')}[${zone}]`);
  const told = rows.filter(({ done }) => done !== 'later').length;
  const wrong = [
    ...(start === null ? [say('bench.paper.no-time', { typed: began })] : []),
    ...rows.filter(isNoDose).map(({ called, dose }) => say('bench.paper.no-dose', { queen: called, typed: dose })),
  ];
  const record = async () => {
    if (session === null || start === null || wrong.length > 0) return;
    setBusy(true);
    for (const [i, row] of rows.entries()) {
      let step = 0;
      const base = epochOf(start) + i * MINUTES_A_QUEEN * 60_000;
      await playRow(session, row, () => base + step++ * 10_000);
    }
    setBusy(false);
    tell(say('bench.sheet.recorded', { n: told }));
    onDone();
  };
  if (rows.length === 0) return <p>{say('bench.sheet.nobody')}</p>;
  return (
    <div className="stack tight">
      <label className="cluster">
        {say('bench.sheet.began')}
        <input
          className="bench-number time"
          value={began}
          onChange={({ target }) => setBegan(target.value)}
          aria-invalid={start === null}
        />
      </label>
      <ol className="queue paper">
        {rows.map((row, i) => (
          <Row
            key={row.queen}
            row={row}
            tubes={cross.tubes}
            put={(some) => setRows(rows.map((each, k) => (k === i ? { ...each, ...some } : each)))}
          />
        ))}
      </ol>
      {wrong.map((words) => (
        <p key={words} className="problem" role="alert">
          {words}
        </p>
      ))}
      <div className="cluster">
        <button
          type="button"
          className="button main"
          disabled={busy || session === null || wrong.length > 0 || told === 0}
          onClick={() => void record()}
        >
          {say('bench.sheet.record', { n: told })}
        </button>
      </div>
    </div>
  );
}

/** A bench sheet filled in by hand, entered by exception: an uneventful queen needs no key at all. */
export function PaperSheetPage() {
  const { day } = useParams({ strict: false });
  const query = useAsk(setOut, { bench_day: day as RecordId });
  const navigate = useNavigate();
  return (
    <Asked query={query}>
      {({ day: answer }) =>
        answer === null ? (
          <NoPage />
        ) : (
          <section className="stack">
            <p>
              <Link to={`/bench/${answer.day.id}`}>{say('bench.day-of', { day: dayWords(answer.day.day) })}</Link>
            </p>
            <h1>{say('bench.from-paper')}</h1>
            <p>{say('bench.sheet.how')}</p>
            {answer.crosses
              .filter(({ queue }) => queue.length > 0)
              .map((cross) => (
                <section key={cross.id} className="stack tight">
                  <h2>
                    {say('bench.cross')} <span className="code">{cross.code}</span>
                  </h2>
                  <SheetForm
                    day={answer.day.id}
                    zone={answer.day.zone}
                    cross={cross}
                    onDone={() => void navigate({ to: `/bench/${answer.day.id}/put-away` })}
                  />
                </section>
              ))}
          </section>
        )
      }
    </Asked>
  );
}
