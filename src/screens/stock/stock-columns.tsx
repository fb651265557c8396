import { Link } from '@tanstack/react-router';
import type { StockRow } from '#questions/stock/stock-book.ts';
import { droneWords } from '#words/queen-words.ts';
import { say, sayAny } from '#words/say.ts';
import type { Column } from '../parts/book-table.tsx';
import { calledOf, LivingState, standsWords } from '../parts/identity-band.tsx';
import { QueenLink } from './queen-link.tsx';
import { emergedWords } from './stock-words.tsx';

function dam({ dam: her }: StockRow) {
  if (her === null) return null;
  return (
    <span>
      <Link to="/stock/queen/$id" params={{ id: her.id }} className="code">
        {her.name}
      </Link>
      {her.guessed ? <span className="soft"> {say('queen.guessed')}</span> : null}
    </span>
  );
}

const stage = ({ stage: is, droneMother }: StockRow) =>
  [is === 'not-known' ? null : sayAny(`stage.${is}`), droneMother ? say('stage.drone-mother') : null]
    .filter((word) => word !== null)
    .join(', ') || null;

/** The columns of the stock book. */
export const stockColumns: readonly Column<StockRow>[] = [
  { key: 'queen', label: say('stock.queen'), lead: true, by: calledOf, cell: (row) => <QueenLink queen={row} /> },
  {
    key: 'emerged',
    label: say('stock.emerged'),
    by: (row) => row.emerged ?? (row.year === null ? null : `${row.year}`),
    cell: emergedWords,
  },
  { key: 'dam', label: say('stock.dam'), by: (row) => row.dam?.name ?? null, cell: dam },
  {
    key: 'drones',
    label: say('stock.drones'),
    by: (row) => (row.droneSide === null ? null : droneWords(row.droneSide)),
    cell: (row) => (row.droneSide === null ? null : droneWords(row.droneSide)),
  },
  { key: 'line', label: say('stock.line'), by: (row) => row.line, cell: (row) => row.line },
  {
    key: 'stands',
    label: say('stock.stands'),
    by: (row) => (row.stands === null ? null : standsWords(row.stands)),
    cell: (row) => (row.stands === null ? null : standsWords(row.stands)),
  },
  {
    key: 'state',
    label: say('stock.state'),
    by: ({ living, stage }) => `${living} ${stage}`,
    cell: (row) => (
      <span>
        <LivingState living={row.living} />
        {stage(row) === null ? '' : `, ${stage(row)}`}
      </span>
    ),
  },
];
