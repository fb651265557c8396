import '../style/semen.css';
import { Link } from '@tanstack/react-router';
import { useMemo } from 'react';
import { type CatchLine, catches } from '#questions/semen/catches.ts';
import { groupBy } from '#units/group-by.ts';
import { say, sayAny } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { DayWords } from '../parts/day-words.tsx';
import { SemenNav } from './semen-nav.tsx';

const namesOf = ({ mothers }: CatchLine): string =>
  mothers.map((name) => name || say('semen.strangers')).join(', ') || say('semen.nobody-knows');

const reasonsOf = ({ reasons }: CatchLine): string =>
  Object.entries(reasons)
    .map(([reason, n]) => `${sayAny(`semen.reason.${reason}`)} ${n}`)
    .join(', ');

const columns = (): readonly Column<CatchLine>[] => [
  {
    key: 'day',
    label: say('semen.catches.day'),
    lead: true,
    by: ({ day }) => day,
    cell: ({ id, day, code }) => (
      <Link to={`/history/${id}`}>
        <DayWords day={day} /> {code}
      </Link>
    ),
  },
  { key: 'mothers', label: say('semen.catches.mothers'), by: namesOf, cell: namesOf },
  {
    key: 'gave',
    label: say('semen.catches.gave'),
    number: true,
    by: ({ gave }) => gave,
    cell: ({ gave, tried }) =>
      gave === null ? null : tried === null ? gave : say('semen.catches.gave-of', { gave, tried }),
  },
  {
    key: 'each',
    label: say('semen.catches.each'),
    number: true,
    by: ({ perDrone }) => perDrone,
    cell: ({ perDrone }) => perDrone?.toFixed(2) ?? null,
  },
  {
    key: 'collected',
    label: say('semen.catches.collected'),
    number: true,
    by: ({ collected }) => collected,
    cell: ({ collected }) => (collected > 0 ? collected.toFixed(1) : null),
  },
  {
    key: 'tubes',
    label: say('semen.catches.tubes'),
    cell: ({ tubes }) =>
      tubes.length === 0
        ? null
        : tubes.map(({ id, code }, i) => (
            <span key={id}>
              {i > 0 ? ', ' : ''}
              <Link to={`/semen/tube/${id}`} className="code">
                {code}
              </Link>
            </span>
          )),
  },
  { key: 'reasons', label: say('semen.catches.reasons'), cell: (line) => reasonsOf(line) || null },
];

type Yield = { name: string; each: number[] };

/** Catches of one mother alone, by mother: only there a drone's semen is hers. */
function yieldsOf(all: readonly CatchLine[]): Yield[] {
  const single = all.filter(({ mothers, perDrone }) => mothers.length === 1 && perDrone !== null && perDrone > 0);
  return [...groupBy(single, namesOf)].map(([name, of]) => ({ name, each: of.map(({ perDrone }) => perDrone ?? 0) }));
}

const WIDTH = 240;

/** Every catch as a dot on a line of µl a drone: dots, because a mean of three catches says little. */
function Strip({ name, each, most }: Yield & { most: number }) {
  const words = say('semen.catches.by-mother-words', {
    name,
    n: each.length,
    low: Math.min(...each).toFixed(2),
    high: Math.max(...each).toFixed(2),
  });
  return (
    <li>
      <svg viewBox={`0 0 ${WIDTH + 16} 24`} className="strip" aria-hidden="true">
        <path d={`M8 12H${WIDTH + 8}`} stroke="var(--edge)" />
        {each.map((value, i) => (
          <circle key={`${value} ${String(i)}`} cx={8 + (value / most) * WIDTH} cy="12" r="5" className="dot" />
        ))}
      </svg>
      <span>{words}</span>
    </li>
  );
}

/** Catches of drones, the newest first, and what a drone of each mother gave. */
export function CatchesPage() {
  const query = useAsk(catches, { newest: 200 });
  const shown = useMemo(columns, []);
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('semen.nav.catches')}</h1>
        <SemenNav />
      </div>
      <Asked query={query}>
        {({ catches: all }) => {
          if (all.length === 0) return <p>{say('semen.catches.none')}</p>;
          const yields = yieldsOf(all);
          const most = Math.max(...yields.flatMap(({ each }) => each), 1);
          return (
            <>
              <BookTable label={say('semen.nav.catches')} rows={all} columns={shown} rowKey={({ id }) => id} />
              {yields.length === 0 ? null : (
                <section className="stack tight">
                  <h2>{say('semen.catches.by-mother')}</h2>
                  <ul className="strips">
                    {yields.map((of) => (
                      <Strip key={of.name} {...of} most={most} />
                    ))}
                  </ul>
                </section>
              )}
            </>
          );
        }}
      </Asked>
    </section>
  );
}
