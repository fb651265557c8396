// biome-ignore-all lint/a11y/noNoninteractiveElementToInteractiveRole: a table whose cells are walked by arrows is a grid (ARIA grid pattern)
import { type KeyboardEvent, useRef, useState } from 'react';
import type { CrossBrood } from '#questions/crosses/cross-brood.ts';
import type { CrossGrid } from '#questions/crosses/cross-grid.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { Code } from '../parts/identity-band.tsx';
import { AreaSquare } from '../stock/area-square.tsx';

const moves: Readonly<Record<string, readonly [number, number]>> = {
  ArrowRight: [0, 1],
  ArrowLeft: [0, -1],
  ArrowDown: [1, 0],
  ArrowUp: [-1, 0],
};

/** The most brood inbreeding a cross of the first kin can have; the squares are drawn to it. */
const MOST = 0.5;

type Pair = { dam: string; droneMother: string };
type GridProps = { grid: CrossGrid; brood: CrossBrood | undefined; onMake: (pair: Pair) => void };

const isPoor = (brood: CrossBrood | undefined, at: number): boolean => {
  const of = brood?.crosses[at];
  return brood !== undefined && of != null && of.viability < brood.limit;
};

/** Where a pair stands in the list of crosses whose brood was asked for: row by row. */
const placeOf = (grid: CrossGrid, row: number, column: number) => row * grid.dams.length + column;

function CellValue({ grid, brood, row, column }: Omit<GridProps, 'onMake'> & { row: number; column: number }) {
  const value = grid.cells[row]?.[column]?.broodInbreeding ?? null;
  if (value === null) return <>–</>;
  return (
    <span className="grid-cell">
      <AreaSquare value={value} most={MOST} /> {figure(value, 3)}
      {isPoor(brood, placeOf(grid, row, column)) ? (
        <span className="visually-hidden">{say('cross.brood-poor')}</span>
      ) : null}
    </span>
  );
}

/** The kinship grid: dams across, drone mothers down; arrows walk, Enter makes the cross. A bar at the margin: too much shot brood. */
function GridTable({ grid, brood, onMake }: GridProps) {
  const table = useRef<HTMLTableElement>(null);
  const [at, setAt] = useState<readonly [number, number]>([0, 0]);
  const pairAt = (row: number, column: number) => {
    const [mother, dam] = [grid.droneMothers[row], grid.dams[column]];
    if (mother !== undefined && dam !== undefined) onMake({ dam: dam.id, droneMother: mother.id });
  };
  const pressed = (event: KeyboardEvent) => {
    if (event.key === 'Enter') {
      event.preventDefault();
      pairAt(at[0], at[1]);
      return;
    }
    const move = moves[event.key];
    if (move === undefined) return;
    event.preventDefault();
    const row = Math.min(grid.droneMothers.length - 1, Math.max(0, at[0] + move[0]));
    const column = Math.min(grid.dams.length - 1, Math.max(0, at[1] + move[1]));
    setAt([row, column]);
    table.current?.querySelector<HTMLElement>(`[data-cell="${row} ${column}"]`)?.focus();
  };
  const chosen = { dam: grid.dams[at[1]], mother: grid.droneMothers[at[0]] };
  return (
    <>
      <table
        className="kinship-grid cross-grid"
        role="grid"
        aria-label={say('choosing.grid')}
        ref={table}
        onKeyDown={pressed}
      >
        <thead>
          <tr>
            <th scope="col" className="corner">
              {say('choosing.corner')}
            </th>
            {grid.dams.map(({ id, name }) => (
              <th scope="col" key={id}>
                <Code>{name}</Code>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {grid.droneMothers.map(({ id, name }, row) => (
            <tr key={id}>
              <th scope="row">
                <Code>{name}</Code>
              </th>
              {grid.dams.map((dam, column) => (
                <td
                  key={dam.id}
                  data-cell={`${row} ${column}`}
                  tabIndex={at[0] === row && at[1] === column ? 0 : -1}
                  className={isPoor(brood, placeOf(grid, row, column)) ? 'poor' : undefined}
                  onFocus={() => setAt([row, column])}
                  onDoubleClick={() => pairAt(row, column)}
                >
                  <CellValue grid={grid} brood={brood} row={row} column={column} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {chosen.dam === undefined || chosen.mother === undefined ? null : (
        <p className="cluster" role="status">
          <span>
            <Code>{chosen.dam.name}</Code> × <Code>{chosen.mother.name}</Code>
          </span>
          <BroodWords brood={brood} at={placeOf(grid, at[0], at[1])} />
          <button type="button" className="button" onClick={() => pairAt(at[0], at[1])}>
            {say('choosing.plan-pair')}
          </button>
        </p>
      )}
    </>
  );
}

/** How much brood of one pair is expected to live. */
function BroodWords({ brood, at }: { brood: CrossBrood | undefined; at: number }) {
  const of = brood?.crosses[at];
  if (of == null) return null;
  return <span>{say('cross.brood-lives', { n: Math.round(of.viability * 100) })}</span>;
}

/** The same pairs one below the other, for a narrow screen: a press makes the cross. */
function PairList({ grid, brood, onMake }: GridProps) {
  return (
    <ul className="pairs">
      {grid.droneMothers.flatMap((mother, row) =>
        grid.dams.map((dam, column) => (
          <li key={`${mother.id} ${dam.id}`}>
            <button type="button" onClick={() => onMake({ dam: dam.id, droneMother: mother.id })}>
              <span>
                <Code>{dam.name}</Code> × <Code>{mother.name}</Code>
              </span>
              <CellValue grid={grid} brood={brood} row={row} column={column} />
            </button>
          </li>
        )),
      )}
    </ul>
  );
}

/** Every pair of the tray, as a grid or, on a narrow screen, as a list. */
export function Pairs({ narrow, ...props }: GridProps & { narrow: boolean }) {
  return narrow ? <PairList {...props} /> : <GridTable {...props} />;
}
