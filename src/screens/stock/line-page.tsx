import { Link, useParams } from '@tanstack/react-router';
import { useState } from 'react';
import { joinLine } from '#actions/stock/lines.ts';
import { lineStandings } from '#questions/stock/lines.ts';
import { stockBook } from '#questions/stock/stock-book.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { useAsk } from '../link/use-ask.ts';
import { useDo } from '../link/use-do.ts';
import { Asked } from '../parts/asked.tsx';
import { BookTable } from '../parts/book-table.tsx';
import { ChooseQueens } from '../parts/choose-record.tsx';
import { Form } from '../parts/form.tsx';
import { NoPage } from '../parts/no-page.tsx';
import { tell } from '../parts/told.tsx';
import { Lane, THIN } from './lines-page.tsx';
import { stockColumns } from './stock-columns.tsx';
import { StockNav } from './stock-nav.tsx';

function AddQueens({ line }: { line: RecordId }) {
  const { run, problems, busy } = useDo();
  const [queens, setQueens] = useState<string[]>([]);
  const keep = async () => {
    const did = await run(joinLine, { queens: queens as RecordId[], line });
    if ('problems' in did) return;
    setQueens([]);
    tell(say('lines.joined', { n: queens.length }));
  };
  return (
    <Form act={say('lines.join')} onSubmit={keep} problems={problems} busy={busy}>
      <ChooseQueens label={say('lines.queens')} values={queens} onChange={setQueens} which="all" at="queens" />
    </Form>
  );
}

/** The leaf of one line: how many of it live, through the years, and every queen of it. */
export function LinePage() {
  const { id } = useParams({ strict: false }) as { id: string };
  const query = useAsk(lineStandings, { today: today() });
  const book = useAsk(stockBook, { today: today() });
  return (
    <section className="stack">
      <StockNav />
      <Asked query={query}>
        {({ lines }) => {
          const line = lines.find((each) => each.id === id);
          if (line === undefined) return <NoPage />;
          const { name, rule, founders, living } = line;
          return (
            <>
              <h1>{say('queen.line-named', { line: name })}</h1>
              {rule === null ? null : <p>{rule}</p>}
              <p>
                {living < THIN ? (
                  <strong>{say('lines.thin', { n: living })}</strong>
                ) : (
                  say('lines.living', { n: living })
                )}
                {founders.length === 0 ? '' : ` · ${say('lines.founded-by', { names: founders.join(', ') })}`}
              </p>
              <Lane line={line} />
            </>
          );
        }}
      </Asked>
      <Asked query={book}>
        {({ queens }) => (
          <BookTable
            label={say('stock.book')}
            rows={queens.filter(({ lineId }) => lineId === id)}
            columns={stockColumns.filter(({ key }) => key !== 'line')}
            rowKey={({ id: queen }) => queen}
            initial={{ key: 'emerged', down: true }}
          />
        )}
      </Asked>
      <h2>{say('lines.more-queens')}</h2>
      <AddQueens line={id as RecordId} />
      <p>
        <Link to="/history/$record" params={{ record: id }}>
          {say('history.of-record')}
        </Link>
      </p>
    </section>
  );
}
