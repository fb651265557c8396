import { Link } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { recordMatingSeason } from '#actions/stock/record-mating-season.ts';
import { type MatingSeasonTold, matingSeasons } from '#questions/stock/mating-seasons.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { Form } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { QueenLink } from './queen-link.tsx';
import { type SeasonDraft, SeasonFields, sourcesOfDraft } from './season-fields.tsx';
import { StockNav } from './stock-nav.tsx';

const columns: readonly Column<MatingSeasonTold>[] = [
  {
    key: 'place',
    label: say('places.place'),
    lead: true,
    by: ({ place }) => place,
    cell: ({ id, place }) => (
      <Link to="/stock/places/$id" params={{ id }}>
        {place}
      </Link>
    ),
  },
  { key: 'year', label: say('queen.year'), number: true, by: ({ year }) => year, cell: ({ year }) => String(year) },
  {
    key: 'mothers',
    label: say('places.mothers'),
    by: ({ mothers }) => mothers,
    cell: ({ queens, groups, mothers }) => (mothers === 0 ? null : <Stood queens={queens} groups={groups} />),
  },
  {
    key: 'trusted',
    label: say('places.trusted'),
    cell: ({ trusted }) => (trusted === null ? null : say(`places.trusted.${trusted}`)),
  },
  {
    key: 'mated',
    label: say('places.mated'),
    number: true,
    by: ({ mated }) => mated,
    cell: ({ mated }) => mated,
  },
];

/** The drone mothers that stood there, queens and groups of sisters. */
export function Stood({ queens, groups }: Pick<MatingSeasonTold, 'queens' | 'groups'>) {
  return (
    <span className="cluster">
      {groups.map(({ id, code, size }) => (
        <Link key={id} to="/stock/sisters/$id" params={{ id }}>
          {say('places.sisters', { code, n: size })}
        </Link>
      ))}
      {queens.map((queen) => (
        <QueenLink key={queen.id} queen={queen} />
      ))}
    </span>
  );
}

function NewSeason({ onDone }: { onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [draft, setDraft] = useState<SeasonDraft>({
    place: '',
    year: Number(today().slice(0, 4)),
    mothers: [],
    from: null,
    to: null,
    trusted: '',
  });
  const keep = async () => {
    const { place, year, from, to, trusted } = draft;
    const did = await run(recordMatingSeason, {
      place,
      year: year as number,
      sources: sourcesOfDraft(draft),
      ...(from === null ? {} : { stood_from: from }),
      ...(to === null ? {} : { stood_to: to }),
      ...(trusted === '' ? {} : { trusted }),
    });
    if ('problems' in did) return;
    tell(say('places.kept', { place, year: String(year) }));
    onDone();
  };
  return (
    <div className="sheet">
      <Form act={say('places.keep')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
        <SeasonFields draft={draft} put={(some) => setDraft((before) => ({ ...before, ...some }))} />
      </Form>
    </div>
  );
}

/** Mating places season by season: which drone mothers stood where queens flew. */
export function MatingPlacesPage() {
  const query = useAsk(matingSeasons, { today: today() });
  const [adding, setAdding] = useState(false);
  useKeys(useMemo(() => ({ N: () => setAdding(true) }), []));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('stock.places')}</h1>
        <button type="button" className="button" onClick={() => setAdding(true)}>
          {say('places.new')} <kbd>N</kbd>
        </button>
      </div>
      <StockNav />
      <p className="page-lead">{say('places.lead')}</p>
      {adding ? <NewSeason onDone={() => setAdding(false)} /> : null}
      <Asked query={query}>
        {({ seasons }) =>
          seasons.length === 0 ? (
            <div className="empty">
              <p>{say('places.empty')}</p>
            </div>
          ) : (
            <BookTable label={say('stock.places')} rows={seasons} columns={columns} rowKey={({ id }) => id} />
          )
        }
      </Asked>
    </section>
  );
}
