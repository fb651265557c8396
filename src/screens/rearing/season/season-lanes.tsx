import '../../style/rearing.css';
import { useId, useRef } from 'react';
import type { SeasonDays, ShownDay, ShownRaising } from '#questions/rearing/season/season-days.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { dayParts } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../../link/this-device.ts';
import { DragHandle } from '../drag-handle.tsx';
import { type DayScale, dayScale } from '../lane-scale.ts';
import { useWidth } from '../use-width.ts';
import type { Moving } from './insemination-days.tsx';

const AXIS = 62;
const ROW = 38;
const BAR = 14;
const HEAD = 24;
/** Pixels a date above its line needs. */
const LABEL = 58;

type Placed = { raising: ShownRaising; y: number };

const nameOf = ({ mother, record, crosses }: ShownRaising): string =>
  [record?.code, mother, crosses.map(({ code }) => code).join('+')].filter(Boolean).join(' · ');

function laneName(raising: ShownRaising): string {
  const { record, overdue, later } = raising;
  const who = nameOf(raising);
  if (record !== null) return who;
  return overdue ? say('lanes.late', { who, n: later }) : say('lanes.planned', { who });
}

type SpanProps = { scale: DayScale; from: Day; to: Day; y: number; height: number; className: string; fill?: string };

function Span({ scale, from, to, y, height, className, fill }: SpanProps) {
  const x = scale.left(from);
  const width = Math.max(1, scale.left(addDays(to, 1)) - x);
  return (
    <rect x={x} y={y} width={width} height={height} className={className} {...(fill === undefined ? {} : { fill })} />
  );
}

/** One comb or bar: thin while brood, hatched until of age, solid while of the best age, outlined while usable. Behind it, dashed, where the plan had it. */
function RaisingLane({ placed: { raising, y }, scale, hatch }: { placed: Placed; scale: DayScale; hatch: string }) {
  const { life, was, record } = raising;
  const top = y + 17;
  const part = { scale, y: top, height: BAR };
  return (
    <g className={record === null ? 'lane-bar planned' : 'lane-bar'}>
      <text x={Math.max(2, scale.left(life.begun))} y={y + 12} className="lane-name">
        {laneName(raising)}
      </text>
      <Span
        scale={scale}
        y={top + BAR / 2 - 2}
        height={4}
        from={life.begun}
        to={addDays(life.out, -1)}
        className="brood"
      />
      <Span {...part} from={life.out} to={addDays(life.ripe, -1)} className="immature" />
      <Span {...part} from={life.out} to={addDays(life.ripe, -1)} className="hatched" fill={`url(#${hatch})`} />
      <Span {...part} from={life.ripe} to={life.ripeTo} className="ripe" />
      {life.usableTo > life.ripeTo ? (
        <Span {...part} from={addDays(life.ripeTo, 1)} to={life.usableTo} className="second" />
      ) : null}
      {was === null ? null : (
        <g className="ghost">
          <path d={`M${scale.left(was.begun)} ${top + BAR / 2}H${scale.left(was.ripe)}`} />
          <Span scale={scale} y={top - 3} height={BAR + 6} from={was.ripe} to={was.ripeTo} className="was" />
        </g>
      )}
    </g>
  );
}

/** Where bars and combs that go along with a moved day would be: those not begun that serve its crosses alone. */
function Along({
  placed,
  moving,
  days,
  scale,
}: {
  placed: readonly Placed[];
  moving: Moving;
  days: readonly ShownDay[];
  scale: DayScale;
}) {
  const codes = new Set(days.find(({ on }) => on === moving.on)?.crosses.map(({ code }) => code));
  const goes = ({ raising: { record, crosses } }: Placed) =>
    record === null && crosses.length > 0 && crosses.every(({ code }) => codes.has(code));
  return (
    <g className="ghost">
      {placed.filter(goes).map(({ raising: { id, life }, y }) => (
        <Span
          key={id}
          scale={scale}
          y={y + 14}
          height={BAR + 6}
          from={addDays(life.ripe, moving.days)}
          to={addDays(life.ripeTo, moving.days)}
          className="was"
        />
      ))}
    </g>
  );
}

type HandleProps = {
  day: ShownDay;
  scale: DayScale;
  height: number;
  moving: Moving | null;
  onMoving: (moving: Moving | null) => void;
  /** The next line is so near that only the date's number has room. */
  isCrowded: boolean;
};

/** The line of an insemination day, dragged sideways by its head; the same move is a press beside the day above. */
function DayLine({ day, scale, height, moving, onMoving, isCrowded }: HandleProps) {
  const x = scale.middle(day.on);
  const days = moving?.on === day.on ? moving.days : 0;
  const ghost = scale.middle(addDays(day.on, days));
  return (
    <g>
      <path d={`M${x} 22V${height}`} className="i-line" />
      <text x={x} y={16} textAnchor={x > scale.width - 60 ? 'end' : x < 60 ? 'start' : 'middle'} className="i-label">
        {isCrowded ? dayParts(day.on).number : dayParts(day.on).date}
      </text>
      {days === 0 ? null : (
        <g className="ghost">
          <path d={`M${ghost} 22V${height}`} className="i-line" />
        </g>
      )}
      <DragHandle
        x={x - 22}
        y={0}
        width={44}
        height={44}
        perDay={scale.perDay}
        days={days}
        onDrag={(by) => onMoving(by === 0 ? null : { on: day.on, days: by })}
        title={say('season.drag')}
        name={day.on}
      />
    </g>
  );
}

function rangeOf({ days, raising }: SeasonDays, moving: Moving | null): { from: Day; to: Day } {
  const all = [
    ...days.map(({ on }) => on),
    ...raising.flatMap(({ life, was }) => [life.begun, life.usableTo, ...(was === null ? [] : [was.begun])]),
    ...(moving === null ? [] : [addDays(moving.on, moving.days)]),
  ];
  return { from: addDays(all.reduce(earlierOf), -2), to: addDays(all.reduce(laterOf), 3) };
}

/** What the picture says, in one sentence. */
function summary({ days, raising }: SeasonDays): string {
  const late = raising.filter(({ was }) => was !== null).length;
  return say('season.lanes', { days: days.length, raising: raising.length, late });
}

function Weeks({ scale, height }: { scale: DayScale; height: number }) {
  const now = today();
  return (
    <g>
      {scale.mondays.map((day) => (
        <g key={day}>
          <path d={`M${scale.left(day)} 46V${height}`} className="week-line" />
          {scale.left(day) > scale.width - 46 ? null : (
            <text x={scale.left(day) + 3} y={56} className="axis-date">
              {dayParts(day).date}
            </text>
          )}
        </g>
      ))}
      {scale.middle(now) > 0 && scale.middle(now) < scale.width ? (
        <path d={`M${scale.middle(now)} 46V${height}`} className="today-line" />
      ) : null}
    </g>
  );
}

type LanesProps = SeasonDays & { moving: Moving | null; onMoving: (moving: Moving | null) => void };

/** All combs above, all bars below, and the insemination days through them: what was raised, and dashed behind it what was planned. */
export function SeasonLanes({ days, raising, moving, onMoving }: LanesProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 720);
  const hatch = useId();
  if (raising.length === 0) return null;
  const scale = dayScale(rangeOf({ days, raising }, moving), width);
  const gaps = days.slice(1).map(({ on }, i) => scale.left(on) - scale.left(days[i]?.on ?? on));
  const isCrowded = Math.min(...gaps, scale.width) < LABEL;
  const drones = raising.filter(({ side }) => side === 'drones');
  const queens = raising.filter(({ side }) => side === 'queens');
  const queensHead = AXIS + HEAD + drones.length * ROW;
  const height = queensHead + HEAD + queens.length * ROW + 6;
  const place = (list: readonly ShownRaising[], top: number): Placed[] =>
    list.map((one, i) => ({ raising: one, y: top + i * ROW }));
  const placed = [...place(drones, AXIS + HEAD), ...place(queens, queensHead + HEAD)];
  return (
    <figure className="lanes season-lanes">
      <figcaption>{summary({ days, raising })}</figcaption>
      <div ref={box}>
        <svg width={width} height={height} role="img" aria-label={summary({ days, raising })}>
          <defs>
            <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path d="M0 0V6" className="hatch" />
            </pattern>
          </defs>
          <Weeks scale={scale} height={height} />
          <text x={2} y={AXIS + 16} className="lane-head">
            {say('lanes.drones')}
          </text>
          <text x={2} y={queensHead + 16} className="lane-head">
            {say('lanes.queens')}
          </text>
          {placed.map((one) => (
            <RaisingLane key={`${one.raising.side} ${one.raising.id}`} placed={one} scale={scale} hatch={hatch} />
          ))}
          {moving === null ? null : <Along placed={placed} moving={moving} days={days} scale={scale} />}
          {days.map((day) => (
            <DayLine
              key={day.on}
              day={day}
              scale={scale}
              height={height}
              moving={moving}
              onMoving={onMoving}
              isCrowded={isCrowded}
            />
          ))}
        </svg>
      </div>
      <p className="note">{say('season.lanes-how')}</p>
    </figure>
  );
}
