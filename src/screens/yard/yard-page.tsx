import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { correct } from '#actions/history/correct.ts';
import { orderYard } from '#actions/yard/change-place.ts';
import type { Nuc } from '#questions/yard/yard-book.ts';
import { yards } from '#questions/yard/yards.ts';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { withInput } from '../link/server.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { Form } from '../parts/form.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { Caution } from './cautions.tsx';
import { NucTable } from './nuc-table.tsx';
import { draftOf, YardFields, yardOf } from './yard-fields.tsx';
import { YardNav } from './yard-nav.tsx';

function EditYard({ yard, onDone }: { yard: Row<'yard'>; onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [draft, setDraft] = useState(() => draftOf(yard));
  const keep = async () => {
    const did = await run(correct, { kind: 'yard', id: yard.id, set: yardOf(draft) });
    if ('problems' in did) return;
    tell(say('yard.kept', { name: draft.name }));
    onDone();
  };
  return (
    <Form act={say('yard.keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <YardFields draft={draft} put={(some) => setDraft((before) => ({ ...before, ...some }))} at="set." />
    </Form>
  );
}

/** The order in which nucs are walked, changed by buttons; kept as one act. */
function Order({ yard, nucs, onDone }: { yard: RecordId; nucs: readonly Nuc[]; onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [order, setOrder] = useState<readonly Nuc[]>(nucs);
  const shift = (from: number, by: number) => {
    const next = [...order];
    const [nuc] = next.splice(from, 1);
    if (nuc !== undefined) next.splice(from + by, 0, nuc);
    setOrder(next);
  };
  const keep = async () => {
    const did = await run(orderYard, { yard, colonies: order.map(({ id }) => id) });
    if ('problems' in did) return;
    tell(say('yard.order-kept'));
    onDone();
  };
  return (
    <Form act={say('yard.keep-order')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
      <ol className="walk">
        {order.map(({ id, code }, n) => (
          <li key={id}>
            <span className="code">{code}</span>
            <span className="cluster">
              <button
                type="button"
                className="button"
                aria-label={say('yard.earlier', { code })}
                disabled={n === 0}
                onClick={() => shift(n, -1)}
              >
                ↑
              </button>
              <button
                type="button"
                className="button"
                aria-label={say('yard.later', { code })}
                disabled={n === order.length - 1}
                onClick={() => shift(n, 1)}
              >
                ↓
              </button>
            </span>
          </li>
        ))}
      </ol>
    </Form>
  );
}

function Leaf({ yard, nucs }: { yard: Row<'yard'>; nucs: readonly Nuc[] }) {
  const navigate = useNavigate();
  const [open, setOpen] = useState<'edit' | 'order' | null>(null);
  const sheet = withInput('/api/paper/round-sheet', { yard: yard.id, today: today() });
  const labels = withInput('/api/paper/nuc-labels', { yard: yard.id, today: today() });
  useKeys(
    useMemo(
      () => ({
        E: () => setOpen('edit'),
        N: () => void navigate({ to: '/yard/new-colony' }),
        P: () => void window.open(sheet),
      }),
      [navigate, sheet],
    ),
  );
  return (
    <>
      <div className="spread">
        <h1>{yard.name}</h1>
        <div className="cluster">
          <Link to="/yard/round/$yard" params={{ yard: yard.id }} className="button main">
            {say('yard.start-round')}
          </Link>
          <button type="button" className="button" onClick={() => setOpen('edit')}>
            {say('yard.edit')} <kbd>E</kbd>
          </button>
          <button type="button" className="button" onClick={() => setOpen('order')}>
            {say('yard.order')}
          </button>
          <a href={sheet} target="_blank" rel="noreferrer" className="button">
            {say('yard.sheet')} <kbd>P</kbd>
          </a>
          <a href={labels} target="_blank" rel="noreferrer" className="button">
            {say('yard.labels')}
          </a>
        </div>
      </div>
      {open === 'edit' ? <EditYard yard={yard} onDone={() => setOpen(null)} /> : null}
      {open === 'order' ? <Order yard={yard.id} nucs={nucs} onDone={() => setOpen(null)} /> : null}
      {nucs.length === 0 ? (
        <p className="soft">{say('yard.empty-yard')}</p>
      ) : (
        <NucTable nucs={nucs} label={yard.name} />
      )}
      <Caution of="moving" />
    </>
  );
}

/** The leaf of one yard. */
export function YardPage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(yards, { today: today() });
  return (
    <section className="stack">
      <YardNav />
      <Asked query={query}>
        {({ yards: all }) => {
          const found = all.find(({ yard }) => yard?.id === id);
          return found === undefined || found.yard === null ? (
            <NoPage />
          ) : (
            <Leaf yard={found.yard} nucs={found.nucs} key={id} />
          );
        }}
      </Asked>
    </section>
  );
}
