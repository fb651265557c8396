import { Link } from '@tanstack/react-router';
import type { DoneCross } from '#questions/bench/bench-summary.ts';
import { say, sayAny } from '#words/say.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { partsWords } from '../../semen/semen-words.ts';

function counts(all: Readonly<Record<string, number>>, prefix: string): string {
  const words = Object.entries(all).map(([kind, n]) => `${sayAny(`${prefix}.${kind}`)} ${n}`);
  return words.length === 0 ? say('bench.away.none') : words.join(', ');
}

/** One cross of the day in numbers, and queen by queen. */
export function CrossSummary({ cross }: { cross: DoneCross }) {
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
          {cross.doses === 0 ? '–' : partsWords(cross.mothers)}
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
