import { Link } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { foundLine } from '#actions/stock/lines.ts';
import { type LineStanding, lineStandings } from '#questions/stock/lines.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable, type Column } from '../parts/book-table.tsx';
import { ChooseQueens } from '../parts/choose-record.tsx';
import { Form, TextField } from '../parts/form.tsx';
import { tell } from '../parts/told.tsx';
import { useKeys } from '../shell/keys.ts';
import { StockNav } from './stock-nav.tsx';

/** A line with fewer living queens than this is getting thin. */
export const THIN = 3;

/** The most queens of a line that emerged in one year: the full width of a lane. */
const mostInAYear = (lines: readonly LineStanding[]): number =>
  Math.max(1, ...lines.flatMap(({ years }) => years.map(({ queens }) => queens)));

/** A line as a lane through the years: the width of each year is how many of its queens live. */
export function Lane({ line, most = mostInAYear([line]) }: { line: LineStanding; most?: number }) {
  const [first, last] = [line.years[0]?.year, line.years.at(-1)?.year];
  if (first === undefined || last === undefined) return null;
  const span = Math.max(1, last - first + 1);
  const words = line.years.map(({ year, living, queens }) =>
    say('lines.of-year', { year: String(year), living, queens }),
  );
  return (
    <svg
      className="lane"
      viewBox={`0 0 ${span * 24} 28`}
      width={span * 24}
      height="28"
      role="img"
      aria-label={words.join('; ')}
    >
      <line x1="0" x2={span * 24} y1="14" y2="14" />
      {line.years.map(({ year, queens, living }) => {
        const x = (year - first) * 24 + 2;
        const tall = 24 * (queens / most);
        const full = 24 * (living / most);
        return (
          <g key={year}>
            <rect className="all" x={x} y={14 - tall / 2} width="20" height={tall} />
            <rect className="alive" x={x} y={14 - full / 2} width="20" height={full} />
          </g>
        );
      })}
    </svg>
  );
}

const columnsFor = (most: number): readonly Column<LineStanding>[] => [
  {
    key: 'name',
    label: say('stock.line'),
    lead: true,
    by: ({ name }) => name,
    cell: ({ id, name }) => (
      <Link to="/stock/line/$id" params={{ id }}>
        {name}
      </Link>
    ),
  },
  {
    key: 'living',
    label: say('living.alive'),
    number: true,
    by: ({ living }) => living,
    cell: ({ living }) => <span>{living < THIN ? <strong>{say('lines.thin', { n: living })}</strong> : living}</span>,
  },
  {
    key: 'unknown',
    label: say('living.unknown'),
    number: true,
    by: ({ unknown }) => unknown,
    cell: ({ unknown }) => unknown,
  },
  { key: 'gone', label: say('living.gone'), number: true, by: ({ gone }) => gone, cell: ({ gone }) => gone },
  { key: 'founders', label: say('lines.founders'), cell: ({ founders }) => founders.join(', ') || null },
  {
    key: 'lane',
    label: say('lines.years'),
    cell: (line) => (line.years.length === 0 ? null : <Lane line={line} most={most} />),
  },
];

function NewLine({ onDone }: { onDone: () => void }) {
  const { run, problems, busy } = useDo();
  const [name, setName] = useState('');
  const [rule, setRule] = useState('');
  const [founders, setFounders] = useState<string[]>([]);
  const keep = async () => {
    const line = { name, ...(rule.trim() === '' ? {} : { rule }) };
    const did = await run(foundLine, { line, founders: founders as RecordId[] });
    if ('problems' in did) return;
    tell(say('lines.kept', { name }));
    onDone();
  };
  return (
    <div className="sheet">
      <Form act={say('lines.found')} onSubmit={keep} problems={problems} busy={busy} onLeave={onDone}>
        <div className="fields">
          <TextField label={say('lines.name')} value={name} onChange={setName} at="line.name" needed />
          <TextField
            label={say('lines.rule')}
            value={rule}
            onChange={setRule}
            at="line.rule"
            hint={say('lines.rule-hint')}
          />
        </div>
        <ChooseQueens
          label={say('lines.founders')}
          values={founders}
          onChange={setFounders}
          which="all"
          at="founders"
        />
      </Form>
    </div>
  );
}

/** The lines: which of them are getting thin. */
export function LinesPage() {
  const query = useAsk(lineStandings, { today: today() });
  const [adding, setAdding] = useState(false);
  useKeys(useMemo(() => ({ N: () => setAdding(true) }), []));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('stock.lines')}</h1>
        <button type="button" className="button" onClick={() => setAdding(true)}>
          {say('lines.new')} <kbd>N</kbd>
        </button>
      </div>
      <StockNav />
      {adding ? <NewLine onDone={() => setAdding(false)} /> : null}
      <Asked query={query}>
        {({ lines }) =>
          lines.length === 0 ? (
            <div className="empty">
              <p>{say('lines.empty')}</p>
            </div>
          ) : (
            <BookTable
              label={say('stock.lines')}
              rows={lines}
              columns={columnsFor(mostInAYear(lines))}
              rowKey={({ id }) => id}
              initial={{ key: 'living', down: false }}
            />
          )
        }
      </Asked>
    </section>
  );
}
