import '../style/bench.css';
import { Link, useNavigate } from '@tanstack/react-router';
import { useMemo } from 'react';
import { openBenchDay } from '#actions/bench/open-bench-day.ts';
import { type BenchDayLine, benchDays } from '#questions/bench/bench-days.ts';
import { say } from '#words/say.ts';
import { OutOfReach } from '../link/server.ts';
import { today, zone } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { DayWords } from '../parts/day-words.tsx';
import { useKeys } from '../shell/keys.ts';
import { EmptyBench } from './empty-bench.tsx';
import { KeptBoards } from './kept-boards.tsx';

const columns = (): readonly Column<BenchDayLine>[] => [
  {
    key: 'day',
    label: say('bench.days.day'),
    lead: true,
    by: ({ day }) => day,
    cell: ({ id, day }) => (
      <Link to={`/bench/${id}`}>
        <DayWords day={day} />
      </Link>
    ),
  },
  { key: 'place', label: say('bench.days.place'), by: ({ place }) => place, cell: ({ place }) => place },
  {
    key: 'operator',
    label: say('bench.days.operator'),
    by: ({ operator }) => operator,
    cell: ({ operator }) => operator,
  },
  { key: 'crosses', label: say('bench.days.crosses'), cell: ({ crosses }) => crosses.join(', ') || null },
  {
    key: 'queued',
    label: say('bench.days.queued'),
    number: true,
    by: ({ queued }) => queued,
    cell: ({ queued }) => queued,
  },
  { key: 'doses', label: say('bench.days.doses'), number: true, by: ({ doses }) => doses, cell: ({ doses }) => doses },
  {
    key: 'closed',
    label: say('bench.days.state'),
    by: ({ closed }) => Number(closed),
    cell: ({ closed }) => (
      <span>
        <span aria-hidden="true">{closed ? '●' : '◐'}</span> {say(closed ? 'bench.days.closed' : 'bench.days.open')}
      </span>
    ),
  },
];

/** Opens a bench day for today and goes to its set-out. */
export function useOpenDay(): { open: () => Promise<void>; busy: boolean } {
  const { run, busy } = useDo();
  const navigate = useNavigate();
  const open = async () => {
    const did = await run(openBenchDay, { day: today(), zone: zone() });
    if ('result' in did && did.result !== null) void navigate({ to: `/bench/${did.result.id}` });
  };
  return { open, busy };
}

/** Days at the microscope, and the crosses whose day is to come. */
export function BenchDaysPage() {
  const query = useAsk(benchDays, { today: today() });
  const { open, busy } = useOpenDay();
  useKeys(useMemo(() => ({ N: () => void open() }), [open]));
  const shown = useMemo(columns, []);
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('place.bench')}</h1>
        <nav className="cluster" aria-label={say('bench.nav')}>
          <button type="button" className="button main" disabled={busy} onClick={() => void open()}>
            {say('bench.nav.open')} <kbd>N</kbd>
          </button>
          <Link to="/bench/lessons" className="button">
            {say('bench.nav.lessons')}
          </Link>
          <Link to="/bench/labels" className="button">
            {say('bench.nav.labels')}
          </Link>
          <Link to="/bench/devices" className="button">
            {say('bench.nav.devices')}
          </Link>
        </nav>
      </div>
      {query.error instanceof OutOfReach ? <KeptBoards /> : null}
      <Asked query={query}>
        {({ days, toCome }) => (
          <>
            {toCome.length === 0 ? null : (
              <section className="stack tight">
                <h2>{say('bench.to-come')}</h2>
                <ul className="plain-list">
                  {toCome.slice(0, 8).map(({ id, code, day, queens, given }) => (
                    <li key={id}>
                      <span aria-hidden="true">{day === today() ? '◐' : '○'}</span>{' '}
                      <Link to={`/crosses/${id}`} className="code">
                        {code}
                      </Link>{' '}
                      {day === null ? say('bench.no-day') : <DayWords day={day} />} ·{' '}
                      {say('bench.given-of', { given, queens })}
                    </li>
                  ))}
                </ul>
              </section>
            )}
            {days.length === 0 ? (
              <EmptyBench onOpen={() => void open()} />
            ) : (
              <BookTable label={say('bench.days')} rows={days} columns={shown} rowKey={({ id }) => id} />
            )}
          </>
        )}
      </Asked>
    </section>
  );
}
