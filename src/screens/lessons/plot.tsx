import '../style/lessons.css';
import { type ReactNode, useSyncExternalStore } from 'react';
import { say } from '#words/say.ts';

/** The room of a plot on its 640-wide grid: what is left after the axes. */
export type Room = { left: number; right: number; top: number; bottom: number; width: number; height: number };

const NARROW = '(max-width: 719px)';

function listenNarrow(heard: () => void): () => void {
  const query = window.matchMedia(NARROW);
  query.addEventListener('change', heard);
  return () => query.removeEventListener('change', heard);
}

/** True on a phone: plots are drawn on a narrower grid there, so that their words stay as large. */
const useNarrow = (): boolean => useSyncExternalStore(listenNarrow, () => window.matchMedia(NARROW).matches);

/** The room of a plot of some height on this screen. */
export const useRoom = (height: number, width = 560): Room => roomOf(height, useNarrow() ? 360 : width);

/** A plot's room for a height; figures left of it, days or numbers below. */
const roomOf = (height: number, width: number): Room => ({
  left: 52,
  right: width - 12,
  top: 12,
  bottom: height - 40,
  width,
  height,
});

/** A straight scale from values to places on the grid. */
export const scale =
  ([from, to]: readonly [number, number], [start, end]: readonly [number, number]) =>
  (value: number): number =>
    to === from ? (start + end) / 2 : start + ((value - from) / (to - from)) * (end - start);

/** Round numbers from 0 to `most`, at most `count` steps. */
export function ticks(most: number, count = 6): number[] {
  const rough = Math.max(most, 1e-9) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough) ?? rough;
  return Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, n) => Math.round(n * step * 1e6) / 1e6);
}

type AxisProps = {
  room: Room;
  at: (value: number) => number;
  values: readonly number[];
  words?: (value: number) => string;
};

/** Numbers below, with the axis line. */
export function BelowAxis({ room, at, values, words = String, title }: AxisProps & { title: string }) {
  return (
    <g className="axis">
      <path d={`M${room.left} ${room.bottom}H${room.right}`} />
      {values.map((value) => (
        <g key={value}>
          <path d={`M${at(value)} ${room.bottom}v4`} />
          <text x={at(value)} y={room.bottom + 18} textAnchor="middle">
            {words(value)}
          </text>
        </g>
      ))}
      <text x={room.right} y={room.bottom + 34} textAnchor="end" className="axis-title">
        {title}
      </text>
    </g>
  );
}

/** Numbers at the left, with light lines across. */
export function LeftAxis({ room, at, values, words = String }: AxisProps) {
  return (
    <g className="axis">
      {values.map((value) => (
        <g key={value}>
          <path className="across" d={`M${room.left} ${at(value)}H${room.right}`} />
          <text x={room.left - 6} y={at(value) + 4} textAnchor="end">
            {words(value)}
          </text>
        </g>
      ))}
    </g>
  );
}

/** Steps to the right then up (or down): the share holds until the next day. */
export function stepPath(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], n) => (n === 0 ? `M${x} ${y}` : `H${x}V${y}`)).join('');
}

type PlotProps = {
  /** The finding, in a sentence. */
  title: string;
  /** How to read it, and what it rests on; left out where it stands above several plots. */
  summary?: string;
  room: Room;
  children: ReactNode;
  /** The same as a table. */
  table: { columns: readonly string[]; rows: readonly (readonly (string | number)[])[] };
};

/** A plot: its finding as the title, how to read it, the drawing, and its data as a table. */
export function Plot({ title, summary, room, children, table }: PlotProps) {
  return (
    <figure className="plot">
      <figcaption className="stack tight">
        <strong>{title}</strong>
        {summary === undefined ? null : <span className="note">{summary}</span>}
      </figcaption>
      <svg viewBox={`0 0 ${room.width} ${room.height}`} role="group" aria-label={title}>
        {children}
      </svg>
      <details>
        <summary>{say('lessons.data')}</summary>
        <table className="book">
          <thead>
            <tr>
              {table.columns.map((column, n) => (
                <th key={column} scope="col" className={n === 0 ? undefined : 'number'}>
                  {column}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row) => (
              <tr key={row.join(' ')}>
                {row.map((cell, n) =>
                  n === 0 ? (
                    <th scope="row" key={n}>
                      {cell}
                    </th>
                  ) : (
                    <td className="number" key={n}>
                      {cell}
                    </td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}
