import type { Stage } from '#domain/stock-book/stage.ts';
import type { StockRow } from '#questions/stock/stock-book.ts';
import { say, sayAny } from '#words/say.ts';

/** What the stock book is narrowed to. Chips of one kind add up, kinds narrow each other. */
export type StockFilter = {
  living: StockRow['living'][];
  stages: Stage[];
  droneMothers: boolean;
  line: string;
  words: string;
};

export const everything: StockFilter = { living: [], stages: [], droneMothers: false, line: '', words: '' };
export const usual: StockFilter = { ...everything, living: ['alive', 'unknown'] };

const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');

/** Whether a queen is among those asked for. */
export function isWanted(row: StockRow, { living, stages, droneMothers, line, words }: StockFilter): boolean {
  if (living.length > 0 && !living.includes(row.living)) return false;
  if (stages.length > 0 && !stages.includes(row.stage)) return false;
  if (droneMothers && !row.droneMother) return false;
  if (line !== '' && (row.line ?? '') !== line) return false;
  const said = `${row.code ?? ''} ${row.called ?? ''} ${row.dam?.name ?? ''} ${row.mark?.disc ?? ''}`;
  return words.trim() === '' || plain(said).includes(plain(words));
}

type ChipProps = { words: string; count: number; on: boolean; onPress: () => void };

function Chip({ words, count, on, onPress }: ChipProps) {
  return (
    <button type="button" className="chip" aria-pressed={on} onClick={onPress}>
      {words} <span className="count">{count}</span>
    </button>
  );
}

const lives = ['alive', 'unknown', 'gone'] as const;
const stages: readonly Stage[] = ['virgin', 'inseminated', 'laying', 'drone-layer', 'not-known'];
const toggled = <T,>(list: readonly T[], item: T): T[] =>
  list.includes(item) ? list.filter((each) => each !== item) : [...list, item];

type FiltersProps = { rows: readonly StockRow[]; filter: StockFilter; onFilter: (some: Partial<StockFilter>) => void };

/** The filters of the stock book in words, each with how many queens it would show. */
export function StockFilters({ rows, filter, onFilter }: FiltersProps) {
  const lines = [...new Set(rows.flatMap(({ line }) => (line === null ? [] : [line])))].sort();
  const among = (some: Partial<StockFilter>) => rows.filter((row) => isWanted(row, { ...filter, ...some })).length;
  return (
    <div className="filters" role="group" aria-label={say('stock.narrow')}>
      <div className="cluster">
        {lives.map((living) => (
          <Chip
            key={living}
            words={sayAny(`living.${living}`)}
            count={among({ living: [living] })}
            on={filter.living.includes(living)}
            onPress={() => onFilter({ living: toggled(filter.living, living) })}
          />
        ))}
      </div>
      <div className="cluster">
        {stages.map((stage) => (
          <Chip
            key={stage}
            words={sayAny(`stage.${stage}`)}
            count={among({ stages: [stage] })}
            on={filter.stages.includes(stage)}
            onPress={() => onFilter({ stages: toggled(filter.stages, stage) })}
          />
        ))}
        <Chip
          words={say('stage.drone-mother')}
          count={among({ droneMothers: true })}
          on={filter.droneMothers}
          onPress={() => onFilter({ droneMothers: !filter.droneMothers })}
        />
      </div>
      <div className="cluster">
        <label className="cluster">
          {say('stock.line')}
          <select value={filter.line} onChange={({ target }) => onFilter({ line: target.value })}>
            <option value="">{say('stock.every-line')}</option>
            {lines.map((line) => (
              <option key={line} value={line}>
                {line}
              </option>
            ))}
          </select>
        </label>
        <label className="cluster">
          {say('stock.code-has')}
          <input
            type="text"
            value={filter.words}
            size={10}
            autoComplete="off"
            onChange={({ target }) => onFilter({ words: target.value })}
          />
        </label>
      </div>
    </div>
  );
}
