import '../style/dot-quantiles.css';
import { say } from '#words/say.ts';

const WIDTH = 300;
const STEP = 14;
const RADIUS = 6;
const EDGE = 18;

/** Where on the picture a value stands, 0 at the lowest of all values and of what is needed. */
type Axis = { low: number; high: number; left: (value: number) => number };

function axisOf(dots: readonly number[], needed: number): Axis {
  const low = Math.min(needed, ...dots);
  const high = Math.max(needed, ...dots);
  const span = high - low || 1;
  return { low, high, left: (value) => EDGE + ((value - low) / span) * (WIDTH - 2 * EDGE) };
}

type Stacked = { x: number; row: number; enough: boolean };

/** Dots that stand close are stacked, counted outwards from the line: no stack holds both what is enough and what is not. */
function stacked(dots: readonly number[], needed: number, { left }: Axis): Stacked[] {
  const heights = new Map<string, number>();
  const line = left(needed);
  return dots.map((value) => {
    const enough = value >= needed;
    const bin = Math.floor(Math.abs(left(value) - line) / STEP);
    const key = `${bin} ${enough}`;
    const row = heights.get(key) ?? 0;
    heights.set(key, row + 1);
    const from = (bin + 0.5) * STEP + 1;
    return { x: enough ? line + from : line - from, row, enough };
  });
}

type DotsProps = {
  /** Equally likely amounts, lowest first; each stands for one season of so many. */
  dots: readonly number[];
  needed: number;
  /** An amount in words, with its unit. */
  words: (value: number) => string;
  /** Said instead of "in 18 of 20 seasons like yours this is enough". */
  told?: string;
};

/** Equally likely outcomes as dots along what they bring: filled where it is enough. The line is what is needed. */
export function DotQuantiles({ dots, needed, words, told }: DotsProps) {
  const axis = axisOf(dots, needed);
  const placed = stacked(dots, needed, axis);
  const enough = dots.filter((value) => value >= needed).length;
  const rows = Math.max(...placed.map(({ row }) => row)) + 1;
  const ground = 8 + rows * STEP;
  const line = axis.left(needed);
  return (
    <figure className="dot-quantiles">
      <svg viewBox={`0 0 ${WIDTH} ${ground + 22}`} width={WIDTH} height={ground + 22} aria-hidden="true">
        <path d={`M2 ${ground}H${WIDTH - 2}`} className="ground" />
        {placed.map(({ x, row, enough: isEnough }, i) => (
          <circle
            key={i}
            cx={Math.min(WIDTH - RADIUS - 1, Math.max(RADIUS + 1, x))}
            cy={ground - STEP / 2 - row * STEP}
            r={RADIUS - 1}
            className={isEnough ? 'full' : 'open'}
          />
        ))}
        <path d={`M${line} 2V${ground + 4}`} className="needed" />
        <text
          x={Math.min(WIDTH - 2, Math.max(2, line))}
          y={ground + 18}
          textAnchor={line > WIDTH - 90 ? 'end' : line < 90 ? 'start' : 'middle'}
        >
          {say('dots.needed', { amount: words(needed) })}
        </text>
      </svg>
      <figcaption>{told ?? say('many.of-twenty', { enough, of: dots.length })}</figcaption>
    </figure>
  );
}
