import { Link, useNavigate } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { type StockRow, stockBook } from '#questions/stock/stock-book.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable } from '../parts/book-table.tsx';
import { useKeys } from '../shell/keys.ts';
import { EmptyStock } from './empty-stock.tsx';
import { stockColumns } from './stock-columns.tsx';
import { everything, isWanted, type StockFilter, StockFilters, usual } from './stock-filters.tsx';
import { StockNav } from './stock-nav.tsx';

const KEPT = 'combwright.stock-filter';

/** The filter of this device, kept from visit to visit. */
function useFilter(): [StockFilter, (some: Partial<StockFilter>) => void] {
  const [filter, setFilter] = useState<StockFilter>(() => {
    const kept = localStorage.getItem(KEPT);
    return kept === null ? usual : { ...everything, ...(JSON.parse(kept) as Partial<StockFilter>) };
  });
  const put = (some: Partial<StockFilter>) => {
    const after = { ...filter, ...some };
    localStorage.setItem(KEPT, JSON.stringify({ ...after, words: '' }));
    setFilter(after);
  };
  return [filter, put];
}

function Book({ queens }: { queens: readonly StockRow[] }) {
  const [filter, onFilter] = useFilter();
  const wanted = useMemo(() => queens.filter((row) => isWanted(row, filter)), [queens, filter]);
  return (
    <>
      <StockFilters rows={queens} filter={filter} onFilter={onFilter} />
      <div className="cluster" role="status">
        <span>{say('stock.shown', { n: wanted.length, of: queens.length })}</span>
        {wanted.length === queens.length ? null : (
          <button type="button" className="button quiet" onClick={() => onFilter(everything)}>
            {say('stock.show-all')}
          </button>
        )}
      </div>
      <BookTable
        label={say('stock.book')}
        rows={wanted}
        columns={stockColumns}
        rowKey={({ id }) => id}
        initial={{ key: 'emerged', down: true }}
      />
    </>
  );
}

/** The stock book: every queen, narrowed by words, the newest first. */
export function StockPage() {
  const navigate = useNavigate();
  const query = useAsk(stockBook, { today: today() });
  useKeys(useMemo(() => ({ N: () => void navigate({ to: '/stock/new' }) }), [navigate]));
  return (
    <section className="stack">
      <div className="spread">
        <h1>{say('place.stock')}</h1>
        <Link to="/stock/new" className="button">
          {say('stock.new')} <kbd>N</kbd>
        </Link>
      </div>
      <StockNav />
      <Asked query={query}>{({ queens }) => (queens.length === 0 ? <EmptyStock /> : <Book queens={queens} />)}</Asked>
    </section>
  );
}
