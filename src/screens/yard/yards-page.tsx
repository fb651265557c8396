import { Link, useNavigate } from '@tanstack/react-router';
import { useMemo } from 'react';
import { type YardOf, yards } from '#questions/yard/yards.ts';
import { say, sayAny } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { useKeys } from '../shell/keys.ts';
import { Caution } from './cautions.tsx';
import { NucTable } from './nuc-table.tsx';
import { SightDrawing } from './round/sight-drawing.tsx';
import { YardNav } from './yard-nav.tsx';

/** One yard: its name leads to its leaf, its nucs stand in walking order, the round starts from here. */
function Yard({ of: { yard, nucs, due } }: { of: YardOf }) {
  const name = yard?.name ?? say('yard.no-yard');
  return (
    <section className="yard stack tight" aria-labelledby={yard?.id ?? 'no-yard'}>
      <div className="spread">
        <h2 id={yard?.id ?? 'no-yard'}>
          {yard === null ? (
            name
          ) : (
            <Link to="/yard/yard/$id" params={{ id: yard.id }}>
              {name}
            </Link>
          )}
        </h2>
        <div className="cluster">
          <span>{say('yard.counts', { n: nucs.length })}</span>
          <strong>{say('yard.due', { n: due })}</strong>
          {yard === null || due === 0 ? null : (
            <Link to="/yard/round/$yard" params={{ yard: yard.id }} className="button main">
              {say('yard.start-round')}
            </Link>
          )}
        </div>
      </div>
      {nucs.length === 0 ? <p className="soft">{say('yard.empty-yard')}</p> : <NucTable nucs={nucs} label={name} />}
    </section>
  );
}

/** Yard before anything stands in it. */
function EmptyYard() {
  return (
    <section className="empty">
      <p>{say('yard.empty')}</p>
      <ul className="drawn-sights" aria-hidden="true">
        {(['eggs', 'worker-caps', 'drone-caps'] as const).map((sight) => (
          <li key={sight}>
            <SightDrawing sight={sight} />
            <span>{sayAny(`sight.${sight}`)}</span>
          </li>
        ))}
      </ul>
      <Link to="/yard/new" className="button main">
        {say('yard.new')}
      </Link>
    </section>
  );
}

/** All yards with their colonies in walking order. */
export function YardsPage() {
  const navigate = useNavigate();
  const query = useAsk(yards, { today: today() });
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/yard/new-colony' }) }), [navigate]));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('place.yard')}</h1>
        <div className="cluster">
          <Link to="/yard/new" className="button">
            {say('yard.new')}
          </Link>
          <Link to="/yard/new-colony" className="button">
            {say('yard.new-colony')} <kbd>N</kbd>
          </Link>
        </div>
      </div>
      <YardNav />
      <Asked query={query}>
        {({ yards: all }) =>
          all.length === 0 ? (
            <EmptyYard />
          ) : (
            <>
              {all.map((of) => (
                <Yard of={of} key={of.yard?.id ?? 'none'} />
              ))}
              <Caution of="stings" />
            </>
          )
        }
      </Asked>
    </section>
  );
}
