import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { queueQueens } from '#actions/bench/queue-queens.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import type { QueuedQueen, SetOutCross } from '#questions/bench/set-out.ts';
import { chooseOthers } from '#questions/stock/choose-others.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { ChooseQueens } from '../parts/choose-record.tsx';
import { calledOf } from '../parts/identity-band.tsx';
import { Problems, problemAt } from '../parts/problems.tsx';
import { QueenMark } from '../parts/queen-mark.tsx';
import { tell } from '../parts/told.tsx';
import { AgeScale } from './age-scale.tsx';

type Row = {
  face: QueenFace;
  age: number | null;
  co2: number;
  cage: string;
  home: string | null;
  status: QueuedQueen['status'];
};

const rowOf = ({ face, age, co2, cage, home, status }: QueuedQueen): Row => ({
  face,
  age,
  co2,
  cage: cage ?? '',
  home: home?.id ?? null,
  status,
});

const moved = <T,>(list: readonly T[], from: number, by: number): T[] => {
  const next = [...list];
  const [one] = next.splice(from, 1);
  if (one !== undefined) next.splice(Math.max(0, from + by), 0, one);
  return next;
};

/** The number after a cage number; the same again where it is no number. */
const nextNumber = (cage: string, by: number): string => (/^\d+$/.test(cage) ? String(Number(cage) + by) : cage);

type FormProps = { cross: SetOutCross; benchDay: string; open: boolean };

/** The queue of one cross: which virgins come, in which order, in which cage, to which nuc they go home. */
export function QueueForm({ cross, benchDay, open }: FormProps) {
  const [edited, setEdited] = useState<Row[] | null>(null);
  const [added, setAdded] = useState<string[]>([]);
  const { run, problems, busy } = useDo();
  const { data } = useAsk(chooseOthers, {});
  const rows = edited ?? cross.queue.map(rowOf);
  const queued = new Set(rows.map(({ face }) => face.id));
  const put = (at: number, some: Partial<Row>) =>
    setEdited(rows.map((row, i) => (i === at ? { ...row, ...some } : row)));
  const candidates = cross.virgins.filter(({ face }) => !queued.has(face.id));
  const takeAll = () =>
    setEdited([
      ...rows,
      ...candidates.map(
        ({ face, ageThen, co2 }): Row => ({ face, age: ageThen, co2, cage: '', home: null, status: 'waiting' }),
      ),
    ]);
  const numberFrom = () => {
    const first = rows[0]?.cage ?? '';
    setEdited(rows.map((row, i) => ({ ...row, cage: nextNumber(first === '' ? '1' : first, i) })));
  };
  const record = async () => {
    const queens = [
      ...rows.map(({ face, cage, home }) => ({
        queen: face.id as RecordId,
        ...(cage.trim() === '' ? {} : { cage: cage.trim() }),
        ...(home === null ? {} : { home: home as RecordId }),
      })),
      ...added.map((queen) => ({ queen: queen as RecordId })),
    ];
    const did = await run(queueQueens, { bench_day: benchDay as RecordId, cross: cross.id as RecordId, queens });
    if ('problems' in did) return;
    setEdited(null);
    setAdded([]);
    tell(say('bench.queue.saved', { n: queens.length }));
  };
  const changed = edited !== null || added.length > 0;
  return (
    <div className="stack tight">
      <Problems problems={problems} title={say('form.not-kept')} />
      {rows.length === 0 ? <p className="soft">{say('bench.queue.none')}</p> : null}
      <ol className="queue">
        {rows.map(({ face, age, co2, cage, home, status }, i) => (
          <li key={face.id}>
            <span className="who">
              <QueenMark year={face.year} mark={face.mark} />
              <Link to={`/stock/queen/${face.id}`} className="code">
                {calledOf(face)}
              </Link>
              {status === 'waiting' ? null : (
                <span className="note">{say(status === 'given' ? 'bench.queue.given' : 'bench.queue.not-done')}</span>
              )}
            </span>
            <AgeScale age={age} />
            <span className="note">{co2 === 0 ? say('bench.no-co2') : say('bench.co2-times', { n: co2 })}</span>
            <label>
              <span className="note">{say('bench.queue.cage')}</span>
              <input
                className="bench-number"
                value={cage}
                onChange={({ target }) => put(i, { cage: target.value })}
                aria-invalid={problemAt(problems, `queens.${i}.cage`) !== undefined}
                disabled={!open}
              />
            </label>
            <label>
              <span className="note">{say('bench.queue.home')}</span>
              <select
                value={home ?? ''}
                disabled={!open}
                onChange={({ target }) => put(i, { home: target.value || null })}
              >
                <option value="">{say('bench.queue.home-came-from')}</option>
                {(data?.colonies ?? []).map((colony) => (
                  <option key={colony.id} value={colony.id}>
                    {colony.code}
                  </option>
                ))}
              </select>
            </label>
            {open && status === 'waiting' ? (
              <span className="cluster">
                <button
                  type="button"
                  className="button"
                  disabled={i === 0}
                  aria-label={say('bench.queue.up', { queen: calledOf(face) })}
                  onClick={() => setEdited(moved(rows, i, -1))}
                >
                  ↑
                </button>
                <button
                  type="button"
                  className="button"
                  disabled={i === rows.length - 1}
                  aria-label={say('bench.queue.down', { queen: calledOf(face) })}
                  onClick={() => setEdited(moved(rows, i, 1))}
                >
                  ↓
                </button>
                <button
                  type="button"
                  className="button quiet"
                  aria-label={say('bench.queue.out', { queen: calledOf(face) })}
                  onClick={() => setEdited(rows.filter((_, k) => k !== i))}
                >
                  ✕
                </button>
              </span>
            ) : null}
          </li>
        ))}
      </ol>
      {open ? (
        <>
          <div className="cluster">
            {candidates.length > 0 ? (
              <button type="button" className="button" onClick={takeAll}>
                {say('bench.queue.take-virgins', { n: candidates.length })}
              </button>
            ) : null}
            {rows.length > 1 ? (
              <button type="button" className="button" onClick={numberFrom}>
                {say('bench.queue.number-cages')}
              </button>
            ) : null}
          </div>
          <ChooseQueens
            label={say('bench.queue.add')}
            values={added}
            onChange={setAdded}
            hint={say('bench.queue.add-hint')}
          />
          {changed ? (
            <div className="cluster">
              <button type="button" className="button main" disabled={busy} onClick={() => void record()}>
                {say('bench.queue.save')}
              </button>
              <button
                type="button"
                className="button"
                onClick={() => {
                  setEdited(null);
                  setAdded([]);
                }}
              >
                {say('form.leave')}
              </button>
            </div>
          ) : null}
        </>
      ) : null}
    </div>
  );
}
