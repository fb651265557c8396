// biome-ignore-all lint/a11y/noRedundantRoles: leaf cards lay the table out as blocks, which would take its roles away
import '../style/book-table.css';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, type ReactNode, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { language, say } from '#words/say.ts';

/** One column of a book table. */
export type Column<R> = {
  key: string;
  label: string;
  /** What stands in the cell; `null` where nothing is known (left out of the leaf card). */
  cell: (row: R) => ReactNode;
  /** What the column is sorted by; a column without it cannot be sorted by. Rows with `null` come last. */
  by?: (row: R) => string | number | null;
  /** Figures stand right. */
  number?: boolean;
  /** Names the row: a header cell, and the title of its leaf card. It should hold the link to the record's leaf. */
  lead?: boolean;
};

/** Which column a table is sorted by. */
export type Sorting = { key: string; down: boolean };

const VIRTUAL_FROM = 200;
/** Tables of more columns are too wide for a tablet: there each row is a leaf card whose facts flow on. */
const WIDE_FROM = 5;

/** Rows in the order of a column; equal ones stay as they were. Numbers inside codes count as numbers (9 before 10). */
export function sorted<R>(rows: readonly R[], columns: readonly Column<R>[], sorting: Sorting | null): readonly R[] {
  const by = columns.find(({ key }) => key === sorting?.key)?.by;
  if (by === undefined || sorting === null) return rows;
  const { compare } = new Intl.Collator(language(), { numeric: true });
  const turn = sorting.down ? -1 : 1;
  return [...rows].sort((one, other) => {
    const [a, b] = [by(one), by(other)];
    if (a === null || b === null) return Number(a === null) - Number(b === null);
    return turn * (typeof a === 'number' && typeof b === 'number' ? a - b : compare(String(a), String(b)));
  });
}

type TableProps<R> = {
  label: string;
  rows: readonly R[];
  columns: readonly Column<R>[];
  rowKey: (row: R) => string;
  /** The column sorted by at first. */
  initial?: Sorting;
};

function HeaderCell<R>({
  column,
  sorting,
  onSort,
}: {
  column: Column<R>;
  sorting: Sorting | null;
  onSort: (sorting: Sorting) => void;
}) {
  const active = sorting?.key === column.key;
  const className = column.number ? 'number' : undefined;
  if (column.by === undefined)
    return (
      <th scope="col" role="columnheader" className={className}>
        {column.label}
      </th>
    );
  return (
    <th
      scope="col"
      role="columnheader"
      className={className}
      {...(active ? { 'aria-sort': sorting.down ? ('descending' as const) : ('ascending' as const) } : {})}
    >
      <button
        type="button"
        className="sort"
        onClick={() => onSort({ key: column.key, down: active ? !sorting.down : false })}
      >
        {column.label}
        <span aria-hidden="true">{active ? (sorting.down ? ' ▾' : ' ▴') : ''}</span>
      </button>
    </th>
  );
}

function Cells<R>({ row, columns }: { row: R; columns: readonly Column<R>[] }) {
  return columns.map((column) => {
    const held = column.cell(row);
    if (column.lead)
      return (
        <th key={column.key} scope="row" role="rowheader">
          {held}
        </th>
      );
    const className = [column.number ? 'number' : '', held === null ? 'none' : ''].join(' ').trim();
    return (
      <td key={column.key} role="cell" data-label={column.label} className={className === '' ? undefined : className}>
        {held ?? <span className="empty-cell">–</span>}
      </td>
    );
  });
}

function SortCards<R>({
  columns,
  sorting,
  onSort,
}: {
  columns: readonly Column<R>[];
  sorting: Sorting | null;
  onSort: (sorting: Sorting) => void;
}) {
  return (
    <label className="sort-cards cluster">
      {say('table.sort-by')}
      <select value={sorting?.key ?? ''} onChange={({ target }) => onSort({ key: target.value, down: false })}>
        {sorting === null ? <option value="">–</option> : null}
        {columns
          .filter(({ by }) => by !== undefined)
          .map(({ key, label }) => (
            <option key={key} value={key}>
              {label}
            </option>
          ))}
      </select>
    </label>
  );
}

/** The rows in sight of a long table, with the room above and below them. */
function useRowsInSight(count: number) {
  const table = useRef<HTMLTableElement>(null);
  const [above, setAbove] = useState(0);
  const isLong = count > VIRTUAL_FROM;
  useLayoutEffect(() => setAbove(table.current?.offsetTop ?? 0), []);
  const virtualizer = useWindowVirtualizer({
    count: isLong ? count : 0,
    estimateSize: () => (window.innerWidth < 720 ? 170 : window.innerWidth < 1080 ? 78 : 37),
    overscan: 12,
    scrollMargin: above,
  });
  const items = virtualizer.getVirtualItems();
  const inSight = isLong ? items.map(({ index }) => index) : Array.from({ length: count }, (_, index) => index);
  const before = (items[0]?.start ?? above) - above;
  const after = virtualizer.getTotalSize() - ((items.at(-1)?.end ?? above) - above);
  return { table, virtualizer, isLong, inSight, before, after };
}

const Spacer = ({ height, columns }: { height: number; columns: number }) =>
  height <= 0 ? null : (
    <tr className="spacer" role="row">
      <td role="cell" colSpan={columns} style={{ height }} />
    </tr>
  );

/**
 * A table to read: sortable by its headers, arrows walk the rows, only the rows in sight are drawn once there are many, leaf
 * cards on the phone.
 */
export function BookTable<R>({ label, rows, columns, rowKey, initial }: TableProps<R>) {
  const [sorting, onSort] = useState<Sorting | null>(initial ?? null);
  const ordered = useMemo(() => sorted(rows, columns, sorting), [rows, columns, sorting]);
  const { table, virtualizer, isLong, inSight, before, after } = useRowsInSight(ordered.length);

  const focusRow = (index: number) => {
    if (index < 0 || index >= ordered.length) return;
    if (isLong) virtualizer.scrollToIndex(index);
    requestAnimationFrame(() => {
      const lead = table.current?.querySelector<HTMLElement>(`tr[aria-rowindex="${index + 2}"] th :is(a, button)`);
      lead?.focus();
    });
  };
  const pressed = (event: KeyboardEvent) => {
    const at = Number((event.target as Element).closest('tr')?.getAttribute('aria-rowindex') ?? 0) - 2;
    if (at < 0 || (event.target as Element).closest('input, select, textarea') !== null) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: ordered.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    focusRow(to);
  };

  return (
    <>
      <SortCards columns={columns} sorting={sorting} onSort={onSort} />
      <table
        className={columns.length > WIDE_FROM ? 'book cards wide' : 'book cards'}
        role="table"
        aria-label={label}
        aria-rowcount={ordered.length + 1}
        ref={table}
        onKeyDown={pressed}
      >
        <thead role="rowgroup">
          <tr role="row" aria-rowindex={1}>
            {columns.map((column) => (
              <HeaderCell key={column.key} column={column} sorting={sorting} onSort={onSort} />
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {isLong ? <Spacer height={before} columns={columns.length} /> : null}
          {inSight.map((index) => {
            const row = ordered[index];
            return row === undefined ? null : (
              <tr
                key={rowKey(row)}
                role="row"
                aria-rowindex={index + 2}
                data-index={index}
                ref={isLong ? virtualizer.measureElement : undefined}
              >
                <Cells row={row} columns={columns} />
              </tr>
            );
          })}
          {isLong ? <Spacer height={after} columns={columns.length} /> : null}
        </tbody>
      </table>
    </>
  );
}
