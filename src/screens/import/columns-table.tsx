import type { ColumnMeaning, Meaning } from '#domain/stock-book/meaning.ts';
import { meanings } from '#domain/stock-book/meaning.ts';
import type { RehearsedColumn } from '#domain/stock-book/rehearsal.ts';
import { say } from '#words/say.ts';

/** A column by its heading, or by its letter when it has none. */
export const headingOf = ({ heading, index }: Pick<RehearsedColumn, 'heading' | 'index'>): string =>
  heading === '' ? say('import.column', { n: index + 1 }) : heading;

type TableProps = {
  columns: readonly RehearsedColumn[];
  onMean: (index: number, meaning: ColumnMeaning) => void;
};

/** The second step: what each column means, with three examples; every guess can be changed by keyboard. */
export function ColumnsTable({ columns, onMean }: TableProps) {
  return (
    <table className="book cards columns-table">
      <thead>
        <tr>
          <th scope="col">{say('import.your-column')}</th>
          <th scope="col">{say('import.examples')}</th>
          <th scope="col">{say('import.means')}</th>
        </tr>
      </thead>
      <tbody>
        {columns.map((column) => (
          <tr key={column.index}>
            <th scope="row">{headingOf(column)}</th>
            <td data-label={say('import.examples')} className="examples">
              {column.examples.map((example) => (
                <span key={example} className="example">
                  {example.slice(0, 40)}
                </span>
              ))}
            </td>
            <td data-label={say('import.means')}>
              <select
                aria-label={say('import.meaning-of', { column: headingOf(column) })}
                value={column.meaning}
                onChange={({ target }) => onMean(column.index, { meaning: target.value as Meaning, split: null })}
              >
                {meanings.map((meaning) => (
                  <option key={meaning} value={meaning}>
                    {say(`meaning.${meaning}`)}
                  </option>
                ))}
              </select>
              {column.guessed ? <span className="note"> {say('import.guessed')}</span> : null}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
