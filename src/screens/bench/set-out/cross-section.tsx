import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { giveCo2 } from '#actions/bench/give-co2.ts';
import type { SetOut, SetOutCross } from '#questions/bench/set-out.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { NumberField } from '../../parts/form.tsx';
import { tell } from '../../parts/told.tsx';
import { QueueForm } from '../queue-form.tsx';

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

/** One cross of the day: what it needs and has, its tubes, its queue, who still lacks carbon dioxide, and the way to the board. */
export function CrossSection({ cross, setOut: { day } }: { cross: SetOutCross; setOut: SetOut }) {
  const open = day.closed === null;
  const need = cross.queue.filter(({ status }) => status === 'waiting').length * cross.dose;
  const { have } = cross;
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
        {cross.tubes.map(({ id, code, left, doses, mothers, condemned, frozen }) => (
          <li key={id}>
            <Link to={`/semen/tube/${id}`} className="code">
              {code}
            </Link>{' '}
            {condemned
              ? say('semen.condemned')
              : `${say('semen.left-doses', { left: left.toFixed(1), doses })} · ${mothers}${frozen ? ` · ${say('semen.frozen')}` : ''}`}
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
