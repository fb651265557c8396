import type { SeasonLine } from '#questions/yard/season-records.ts';
import { say } from '#words/say.ts';
import { BelowAxis, Plot, scale, useRoom } from '../../lessons/plot.tsx';
import { figureOf, traitName, valueWords } from '../scores/traits.ts';

type Dot = { line: SeasonLine; value: number };
type Row = { name: string; dots: Dot[]; mean: number };

const levelName = ({ yard, year }: SeasonLine) => `${yard.name} ${year}`;

/** Yard-years with their colonies' values, in order of time, then yard. */
function rowsOf(records: readonly SeasonLine[], trait: string): Row[] {
  const rows = new Map<string, Dot[]>();
  for (const line of records) {
    const value = line.traits.find((each) => each.trait === trait)?.value;
    if (value !== undefined) rows.set(levelName(line), [...(rows.get(levelName(line)) ?? []), { line, value }]);
  }
  return [...rows].map(([name, dots]) => ({
    name,
    dots,
    mean: dots.reduce((sum, { value }) => sum + value, 0) / dots.length,
  }));
}

/** Round numbers between two ends. */
export function ticksBetween(low: number, high: number, count = 5): number[] {
  const rough = Math.max(high - low, 1e-9) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const size = [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough) ?? rough;
  const first = Math.ceil(low / size - 1e-9);
  const last = Math.floor(high / size + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, n) => Math.round((first + n) * size * 1e9) / 1e9);
}

const ROW = 52;

function RowOfDots({ row, x, top, right }: { row: Row; x: (value: number) => number; top: number; right: number }) {
  const n = row.dots.length;
  return (
    <g>
      <text x={12} y={top + 14}>
        {n === 1 ? say('records.row-one', { name: row.name }) : say('records.row', { name: row.name, n })}
      </text>
      <path className="across" d={`M12 ${top + 32}H${right}`} />
      {n === 1 ? null : <path className="mean" d={`M${x(row.mean)} ${top + 20}v24`} />}
      {row.dots.map(({ line, value }) => (
        <a
          key={line.id}
          href={`/stock/queen/${line.queen?.id ?? ''}`}
          aria-label={say('records.dot', { code: line.code, value: valueWords(line.traits[0]?.trait ?? '', value) })}
        >
          <circle className={n === 1 ? 'mark hollow' : 'mark'} cx={x(value)} cy={top + 32} r="6" />
        </a>
      ))}
    </g>
  );
}

/** Each yard-year a row of dots: a colony is compared only with those beside it. A colony alone is hollow: it says nothing. */
export function YardYearPlot({ records, trait }: { records: readonly SeasonLine[]; trait: string }) {
  const rows = rowsOf(
    records.map((line) => ({ ...line, traits: line.traits.filter((each) => each.trait === trait) })),
    trait,
  );
  const values = rows.flatMap(({ dots }) => dots.map(({ value }) => value));
  const room = useRoom(rows.length * ROW + 56);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const pad = (high - low) / 20 || 1;
  const x = scale([low - pad, high + pad], [20, room.right - 8]);
  if (rows.length === 0) return null;
  const apart = Math.max(...rows.map(({ mean }) => mean)) - Math.min(...rows.map(({ mean }) => mean));
  return (
    <Plot
      title={
        rows.length === 1
          ? say('records.plot-one', { trait: traitName(trait) })
          : say('records.plot', { trait: traitName(trait), apart: figureOf(trait, apart) })
      }
      summary={say('records.plot-summary')}
      room={room}
      table={{
        columns: [say('records.yard-year'), say('records.colonies'), say('records.mean')],
        rows: rows.map(({ name, dots, mean }) => [name, dots.length, figureOf(trait, mean)]),
      }}
    >
      {rows.map((row, n) => (
        <RowOfDots key={row.name} row={row} x={x} top={8 + n * ROW} right={room.right} />
      ))}
      <BelowAxis
        room={{ ...room, left: 12 }}
        at={x}
        values={ticksBetween(low - pad, high + pad)}
        words={(value) => figureOf(trait, value)}
        title={traitName(trait)}
      />
    </Plot>
  );
}
