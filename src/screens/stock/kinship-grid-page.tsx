// biome-ignore-all lint/a11y/noNoninteractiveElementToInteractiveRole: a table whose cells are walked by arrows is a grid (ARIA grid pattern)
import { Link } from '@tanstack/react-router';
import { type KeyboardEvent, useRef, useState } from 'react';
import { type KinshipGrid, kinshipGrid } from '#questions/stock/kinship.ts';
import type { RecordId } from '#units/record-id.ts';
import { figure } from '#words/queen-words.ts';
import { say } from '#words/say.ts';
import { useAsk } from '../link/use-ask.ts';
import { Asked } from '../parts/asked.tsx';
import { ChooseQueens } from '../parts/choose-record.tsx';
import { ChoiceField, useDraft } from '../parts/form.tsx';
import { Code } from '../parts/identity-band.tsx';
import { AreaSquare } from './area-square.tsx';
import { Assumptions } from './assumptions.tsx';
import { StockNav } from './stock-nav.tsx';

type Draft = { across: string[]; down: string[]; measure: 'queens' | 'drones' };

const moves: Readonly<Record<string, readonly [number, number]>> = {
  ArrowRight: [0, 1],
  ArrowLeft: [0, -1],
  ArrowDown: [1, 0],
  ArrowUp: [-1, 0],
};

/** The grid itself: arrows walk its cells, each square's area is the value beside it. */
function Grid({ grid, most }: { grid: KinshipGrid; most: number }) {
  const table = useRef<HTMLTableElement>(null);
  const [at, setAt] = useState<readonly [number, number]>([0, 0]);
  const walk = (event: KeyboardEvent) => {
    const move = moves[event.key];
    if (move === undefined) return;
    event.preventDefault();
    const row = Math.min(grid.down.length - 1, Math.max(0, at[0] + move[0]));
    const column = Math.min(grid.across.length - 1, Math.max(0, at[1] + move[1]));
    setAt([row, column]);
    table.current?.querySelector<HTMLElement>(`[data-cell="${row} ${column}"]`)?.focus();
  };
  return (
    <div className="scroll-inside">
      <table className="kinship-grid" role="grid" aria-label={say('stock.kinship')} ref={table} onKeyDown={walk}>
        <thead>
          <tr>
            <td />
            {grid.across.map(({ id, name }) => (
              <th scope="col" key={id}>
                <Link to="/stock/queen/$id" params={{ id }}>
                  <Code>{name}</Code>
                </Link>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {grid.down.map(({ id, name }, row) => (
            <tr key={id}>
              <th scope="row">
                <Link to="/stock/queen/$id" params={{ id }}>
                  <Code>{name}</Code>
                </Link>
              </th>
              {(grid.cells[row] ?? []).map((value, column) => (
                <td
                  key={grid.across[column]?.id}
                  data-cell={`${row} ${column}`}
                  tabIndex={at[0] === row && at[1] === column ? 0 : -1}
                  onFocus={() => setAt([row, column])}
                  className={grid.across[column]?.id === id ? 'same' : undefined}
                >
                  {value === null ? (
                    '–'
                  ) : (
                    <span className="cell">
                      <AreaSquare value={value} most={most} /> {figure(value, 2)}
                    </span>
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Kinship of chosen queens with chosen queens, or of their brood with the drones these would give. */
export function KinshipGridPage() {
  const [draft, put] = useDraft<Draft>('kinship-grid', { across: [], down: [], measure: 'drones' });
  const down = draft.down.length === 0 ? draft.across : draft.down;
  const input = { across: draft.across as RecordId[], down: down as RecordId[], measure: draft.measure };
  const query = useAsk(kinshipGrid, input, draft.across.length > 0);
  return (
    <section className="stack">
      <h1>{say('stock.kinship')}</h1>
      <StockNav />
      <p>{say('grid.what')}</p>
      <div className="two-columns">
        <ChooseQueens
          label={say('grid.across')}
          values={draft.across}
          onChange={(across) => put({ across })}
          which="all"
        />
        <ChooseQueens
          label={say('grid.down')}
          hint={say('grid.down-hint')}
          values={draft.down}
          onChange={(chosen) => put({ down: chosen })}
          which="all"
        />
      </div>
      <ChoiceField
        label={say('grid.measure')}
        value={draft.measure}
        onChange={(measure) => put({ measure })}
        choices={[
          { value: 'drones', words: say('grid.drones') },
          { value: 'queens', words: say('grid.queens') },
        ]}
      />
      {draft.across.length === 0 ? null : (
        <Asked query={query}>
          {(grid) => (
            <>
              <Grid grid={grid} most={draft.measure === 'queens' ? 1 : 0.5} />
              <p className="note">{say(draft.measure === 'queens' ? 'kinship.scale' : 'grid.scale-drones')}</p>
              <Assumptions assumptions={grid.assumptions} />
            </>
          )}
        </Asked>
      )}
    </section>
  );
}
