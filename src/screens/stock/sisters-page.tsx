import { Link, useParams } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { nameSisters } from '#actions/stock/lines.ts';
import { recordSisterGroup } from '#actions/stock/record-plain.ts';
import { type SisterGroup, sisterGroups } from '#questions/stock/sister-groups.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { ChooseQueen, ChooseQueens } from '../parts/choose-record.tsx';
import { Form, NumberField, TextField } from '../parts/form.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { QueenLink } from './queen-link.tsx';
import { StockNav } from './stock-nav.tsx';

const columns: readonly Column<SisterGroup>[] = [
  {
    key: 'code',
    label: say('sisters.group'),
    lead: true,
    by: ({ code }) => code,
    cell: ({ id, code }) => (
      <Link to="/stock/sisters/$id" params={{ id }}>
        {code}
      </Link>
    ),
  },
  { key: 'size', label: say('sisters.size'), number: true, by: ({ size }) => size, cell: ({ size }) => size },
  {
    key: 'known',
    label: say('sisters.known'),
    number: true,
    by: ({ known }) => known.length,
    cell: ({ known }) => known.length,
  },
  { key: 'dam', label: say('stock.dam'), cell: ({ dam }) => (dam === null ? null : <QueenLink queen={dam} />) },
  {
    key: 'year',
    label: say('queen.year'),
    number: true,
    by: ({ year }) => year,
    cell: ({ year }) => (year === null ? null : String(year)),
  },
];

function NewGroup({ onDone }: { onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [draft, setDraft] = useState<{ code: string; size: number | null; year: number | null; dam: string | null }>({
    code: '',
    size: null,
    year: null,
    dam: null,
  });
  const put = (some: Partial<typeof draft>) => setDraft((before) => ({ ...before, ...some }));
  const keep = async () => {
    const { code, size, year, dam } = draft;
    const sure = dam === null ? null : ('known' as const);
    const group = { code, size: size as number, year, dam: dam as RecordId | null, dam_sure: sure };
    const did = await run(recordSisterGroup, group);
    if ('problems' in did) return;
    tell(say('sisters.kept', { code }));
    onDone();
  };
  return (
    <div className="sheet">
      <Form act={say('sisters.keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
        <div className="fields">
          <TextField
            label={say('sisters.group')}
            value={draft.code}
            onChange={(code) => put({ code })}
            at="code"
            needed
          />
          <NumberField
            label={say('sisters.size')}
            value={draft.size}
            onChange={(size) => put({ size })}
            at="size"
            needed
          />
          <ChooseQueen
            label={say('stock.dam')}
            which="all"
            value={draft.dam}
            onChange={(dam) => put({ dam })}
            at="dam"
          />
          <NumberField label={say('queen.year')} value={draft.year} onChange={(year) => put({ year })} at="year" />
        </div>
      </Form>
    </div>
  );
}

/** Groups of sisters that are not recorded one by one. */
export function SistersPage() {
  const query = useAsk(sisterGroups, { today: today() });
  const [adding, setAdding] = useState(false);
  useKeys(useMemo(() => ({ N: () => setAdding(true) }), []));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('stock.sisters')}</h1>
        <button type="button" className="button" onClick={() => setAdding(true)}>
          {say('sisters.new')} <kbd>N</kbd>
        </button>
      </div>
      <StockNav />
      {adding ? <NewGroup onDone={() => setAdding(false)} /> : null}
      <Asked query={query}>
        {({ groups }) =>
          groups.length === 0 ? (
            <div className="empty">
              <p>{say('sisters.empty')}</p>
            </div>
          ) : (
            <BookTable label={say('stock.sisters')} rows={groups} columns={columns} rowKey={({ id }) => id} />
          )
        }
      </Asked>
    </section>
  );
}

function NameSisters({ group }: { group: SisterGroup }) {
  const { run, problems, busy } = useDo();
  const [queens, setQueens] = useState<string[]>([]);
  const keep = async () => {
    const did = await run(nameSisters, { queens: queens as RecordId[], sister_group: group.id as RecordId });
    if ('problems' in did) return;
    setQueens([]);
    tell(say('sisters.named'));
  };
  return (
    <Form act={say('sisters.name')} onSubmit={keep} problems={problems} busy={busy}>
      <ChooseQueens label={say('sisters.members')} values={queens} onChange={setQueens} which="all" at="queens" />
    </Form>
  );
}

/** The leaf of one group of sisters. */
export function SisterGroupPage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(sisterGroups, { today: today() });
  return (
    <section className="stack">
      <StockNav />
      <Asked query={query}>
        {({ groups }) => {
          const group = groups.find((each) => each.id === id);
          if (group === undefined) return <NoPage />;
          return (
            <>
              <h1>{group.code}</h1>
              <p>
                {say('sisters.told', { n: group.size, known: group.known.length })}
                {group.dam === null ? '' : ' · '}
                {group.dam === null ? null : <QueenLink queen={group.dam} />}
              </p>
              <h2>{say('sisters.known')}</h2>
              <ul className="faces">
                {group.known.map((face) => (
                  <li key={face.id}>
                    <QueenLink queen={face} />
                  </li>
                ))}
              </ul>
              <NameSisters group={group} />
            </>
          );
        }}
      </Asked>
    </section>
  );
}
