import type { BarLeaf, CellLine } from '#questions/rearing/bar-leaf.ts';
import { say, sayAny } from '#words/say.ts';

/** How far a cell has come. */
export type CellState = 'grafted' | 'not-accepted' | 'accepted' | 'sealed' | 'out' | 'emerged' | 'lost' | 'given';

export function cellState(cell: CellLine): CellState {
  if (cell.lost === 1) return 'lost';
  if (cell.given_to !== null) return 'given';
  if (cell.emerged_on !== null) return 'emerged';
  if (cell.out_on !== null) return 'out';
  if (cell.sealed_on !== null) return 'sealed';
  if (cell.accepted === 1) return 'accepted';
  return cell.accepted === 0 ? 'not-accepted' : 'grafted';
}

/** A cell as it hangs: a cup, a cell growing, sealed, in its cage, open, or struck out. */
function DrawnCell({ state }: { state: CellState }) {
  return (
    <svg viewBox="0 0 28 40" width="28" height="40" aria-hidden="true" className="drawn-cell">
      <path d="M4 2h20" className="bar-wood" />
      {state === 'grafted' || state === 'not-accepted' ? <path d="M8 4v7a6 6 0 0 0 12 0V4" /> : null}
      {state === 'accepted' ? <path d="M7 4v13a7 7 0 0 0 14 0V4" /> : null}
      {state === 'sealed' ? <path d="M7 4v16c0 8 3 14 7 16 4-2 7-8 7-16V4Z" className="solid" /> : null}
      {state === 'out' ? (
        <>
          <path d="M9 8v10c0 6 2 10 5 12 3-2 5-6 5-12V8Z" className="solid" />
          <path d="M4 5v32h20V5" />
        </>
      ) : null}
      {state === 'emerged' ? <path d="M7 4v16c0 6 2 10 4 12l-1 4m7-4 1 4M21 4v16c0 6-2 10-4 12" /> : null}
      {state === 'lost' || state === 'given' ? <path d="M8 4v7a6 6 0 0 0 12 0V4" className="dashed" /> : null}
      {state === 'not-accepted' || state === 'lost' ? <path d="M6 14 22 34M22 14 6 34" /> : null}
      {state === 'given' ? <path d="M8 24h12m-5-5 5 5-5 5" /> : null}
    </svg>
  );
}

type CellBarProps = {
  cells: readonly CellLine[];
  ranges: BarLeaf['line']['ranges'];
  chosen: readonly number[];
  onToggle: (position: number) => void;
};

/** The bar as it hangs, cell by cell: a press chooses a cell; whose larvae stand where is written above. */
export function CellBar({ cells, ranges, chosen, onToggle }: CellBarProps) {
  return (
    <div className="cell-bars">
      {ranges.map(({ from, to, dam }) => (
        <section key={from} aria-label={say('bar.cells-of', { from, to, dam })}>
          <h2>{say('bar.cells-of', { from, to, dam })}</h2>
          <ul className="cell-bar">
            {cells
              .filter(({ position }) => from <= position && position <= to)
              .map((cell) => (
                <li key={cell.position}>
                  <button
                    type="button"
                    aria-pressed={chosen.includes(cell.position)}
                    aria-label={say('bar.cell-is', { n: cell.position, state: sayAny(`cell.${cellState(cell)}`) })}
                    onClick={() => onToggle(cell.position)}
                  >
                    <DrawnCell state={cellState(cell)} />
                    <span>{cell.position}</span>
                  </button>
                </li>
              ))}
          </ul>
        </section>
      ))}
    </div>
  );
}
