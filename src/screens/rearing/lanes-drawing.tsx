import '../style/rearing.css';
import { useId, useRef } from 'react';
import type { Lane, Lanes } from '#questions/rearing/lanes.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { dayParts, dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';
import { fromIWords } from '../today/task-words.ts';
import { DragHandle } from './drag-handle.tsx';
import { type DayScale, dayScale } from './lane-scale.ts';
import { LanesTable } from './lanes-table.tsx';
import type { Handle, Moves } from './moves.ts';
import { useWidth } from './use-width.ts';

const AXIS = 62;
const HEAD = 26;
const ROW = 46;
const BAR = 18;
const GAP = 10;

/** What the lanes say, in one sentence. */
export function lanesWords({ overlap, insemination }: Lanes): string {
  const day = dayWords(insemination, today());
  if (overlap === null) return say('lanes.apart', { day });
  return say('lanes.together', { from: dayWords(overlap.from, today()), to: dayWords(overlap.to, today()), day });
}

type Placed = { lane: Lane; y: number };
type Layout = { drones: Placed[]; queens: Placed[]; queensHead: number; height: number };

function layoutOf({ drones, queens }: Lanes): Layout {
  const place = (lanes: readonly Lane[], top: number) => lanes.map((lane, i) => ({ lane, y: top + i * ROW }));
  const queensHead = AXIS + HEAD + drones.length * ROW + GAP;
  return {
    drones: place(drones, AXIS + HEAD),
    queens: place(queens, queensHead + HEAD),
    queensHead,
    height: queensHead + HEAD + queens.length * ROW + 6,
  };
}

const until = (scale: DayScale, day: Day) => scale.left(addDays(day, 1));

/** A lane by name; what is not known to have begun is planned, or late. */
function laneWords({ id, late }: Lane, who: string): string {
  if (id !== null) return who;
  return late > 0 ? say('lanes.late', { who, n: late }) : say('lanes.planned', { who });
}

/** One lane: thin while brood, hatched until of age, solid while of the best age, outlined while still usable, then fading. */
function LaneBar({ lane, y, scale, hatch }: Placed & { scale: DayScale; hatch: string }) {
  const top = y + 20;
  const name = [lane.code, lane.who].filter((words) => words !== '').join(' · ');
  return (
    <g className={lane.id === null ? 'lane-bar planned' : 'lane-bar'}>
      <text x={Math.max(2, scale.left(lane.parts[0]?.from ?? lane.ripe.from))} y={y + 14} className="lane-name">
        {laneWords(lane, name)}
      </text>
      {lane.parts.map(({ growth, from, to }) => {
        const x = scale.left(from);
        const width = Math.max(1, until(scale, to) - x);
        if (growth === 'brood')
          return <rect key={growth} x={x} y={top + BAR / 2 - 2} width={width} height={4} className="brood" />;
        return (
          <g key={growth}>
            <rect x={x} y={top} width={width} height={BAR} className={growth} />
            {growth === 'immature' ? <rect x={x} y={top} width={width} height={BAR} fill={`url(#${hatch})`} /> : null}
          </g>
        );
      })}
      {lane.earliest === null ? null : (
        <rect
          x={scale.left(lane.earliest)}
          y={top}
          width={Math.max(2, scale.left(lane.parts[1]?.from ?? lane.earliest) - scale.left(lane.earliest))}
          height={BAR}
          fill={`url(#${hatch})`}
          className="early"
        />
      )}
    </g>
  );
}

type AxisProps = { scale: DayScale; insemination: Day; moved: Day; height: number };

function Axis({ scale, insemination, moved, height }: AxisProps) {
  const x = scale.middle(insemination);
  const side = x > scale.width - 120 ? 'end' : 'start';
  const beside = side === 'end' ? x - 6 : x + 6;
  return (
    <g>
      {scale.mondays.map((day) => {
        const at = scale.left(day);
        // A label that the line, or what it is taken hold of by, would cross is left out.
        const isCrossed = [x, scale.middle(moved)].some((line) => at - 18 < line && line < at + 66);
        return (
          <g key={day}>
            <path d={`M${at} 24V${height}`} className="week-line" />
            {isCrossed || at > scale.width - 46 ? null : (
              <text x={at + 3} y={36} className="axis-date">
                {dayParts(day).date}
              </text>
            )}
            {isCrossed || at > scale.width - 46 ? null : (
              <text x={at + 3} y={52} className="axis-i">
                {fromIWords(daysBetween(insemination, day))}
              </text>
            )}
          </g>
        );
      })}
      <path d={`M${x} 4V${height}`} className="i-line" />
      <text x={beside} y={16} textAnchor={side} className="i-label">
        {say('lanes.i', { day: dayWords(insemination, today()) })}
      </text>
    </g>
  );
}

function TodayLine({ lanes, scale, height }: { lanes: Lanes; scale: DayScale; height: number }) {
  const now = today();
  if (now < lanes.from || now > lanes.to || now === lanes.insemination) return null;
  const x = scale.middle(now);
  const isCrowded = Math.abs(x - scale.middle(lanes.insemination)) < 150;
  return (
    <g>
      <path d={`M${x} 20V${height}`} className="today-line" />
      {isCrowded ? null : (
        <text x={x + 4} y={16} className="today-label">
          {say('lanes.today')}
        </text>
      )}
    </g>
  );
}

/** Where the plan had what was raised otherwise: dashed behind it. */
function OldPlan({ scale, layout }: { scale: DayScale; layout: Layout }) {
  return (
    <g className="ghost">
      {[...layout.drones, ...layout.queens].map(({ lane: { key, was }, y }) =>
        was === null ? null : (
          <g key={key}>
            <path d={`M${scale.left(was.begun)} ${y + 20 + BAR / 2}H${scale.left(was.from)}`} />
            <rect
              x={scale.left(was.from)}
              y={y + 17}
              width={until(scale, was.to) - scale.left(was.from)}
              height={BAR + 6}
            />
          </g>
        ),
      )}
    </g>
  );
}

/** Where the two sides would be after a move: outlines and a second line, dashed. */
function Ghost({ ghost, scale, layout }: { ghost: Lanes; scale: DayScale; layout: Layout }) {
  const pair = (placed: readonly Placed[], lanes: readonly Lane[]) =>
    placed.flatMap(({ y, lane }, i) => {
      const moved = lanes[i];
      return moved === undefined || !lane.goes || moved.ripe.from === lane.ripe.from ? [] : [{ y, lane: moved }];
    });
  const x = scale.middle(ghost.insemination);
  return (
    <g className="ghost">
      {[...pair(layout.drones, ghost.drones), ...pair(layout.queens, ghost.queens)].map(({ y, lane }) => {
        const [brood] = lane.parts;
        const left = scale.left(brood?.from ?? lane.ripe.from);
        return (
          <g key={lane.key}>
            <path d={`M${left} ${y + 20 + BAR / 2}H${scale.left(lane.ripe.from)}`} />
            <rect
              x={scale.left(lane.ripe.from)}
              y={y + 17}
              width={until(scale, lane.ripe.to) - scale.left(lane.ripe.from)}
              height={BAR + 6}
            />
          </g>
        );
      })}
      <path d={`M${x} 4V${layout.height}`} className="i-line" />
    </g>
  );
}

function Overlap({ lanes, scale, layout }: { lanes: Lanes; scale: DayScale; layout: Layout }) {
  if (lanes.overlap === null) return null;
  const x = scale.left(lanes.overlap.from);
  const width = until(scale, lanes.overlap.to) - x;
  return <rect x={x} y={AXIS} width={width} height={layout.height - AXIS} className="overlap" />;
}

/** What can be dragged, by how much it is moved so far, and what a drag tells. */
type Drag = { moves: Moves; onMove: (handle: Handle, days: number) => void };

type HandlesProps = { lanes: Lanes; scale: DayScale; layout: Layout; drag: Drag };

/** Takes hold of the insemination day by the head of its line, and of what is only planned by its lane. What was raised stays where it is. */
function Handles({ lanes, scale, layout, drag: { moves, onMove } }: HandlesProps) {
  const shared = (handle: Handle) => ({
    perDay: scale.perDay,
    days: moves[handle],
    onDrag: (days: number) => onMove(handle, days),
  });
  const planned = (placed: readonly Placed[], handle: Handle) =>
    placed
      .filter(({ lane }) => lane.goes)
      .map(({ lane, y }) => {
        const x = scale.left(lane.parts[0]?.from ?? lane.ripe.from);
        const width = Math.max(44, until(scale, lane.parts[3]?.to ?? lane.ripe.to) - x);
        const name = `${handle} ${lane.key}`;
        const title = say(`lanes.drag-${handle === 'drone-age' ? 'drones' : 'queens'}`);
        return (
          <DragHandle key={name} {...shared(handle)} x={x} y={y} width={width} height={44} title={title} name={name} />
        );
      });
  const x = scale.middle(addDays(lanes.insemination, moves.day));
  return (
    <g>
      {planned(layout.drones, 'drone-age')}
      {planned(layout.queens, 'queen-age')}
      <path d={`M${x - 10} 40l-6 6 6 6M${x + 10} 40l6 6-6 6`} className="drag-grip" />
      <DragHandle
        {...shared('day')}
        x={x - 22}
        y={22}
        width={44}
        height={44}
        title={say('lanes.drag-day')}
        name="day"
      />
    </g>
  );
}

type DrawingProps = {
  lanes: Lanes;
  /** The same after a move that is not kept yet. */
  ghost?: Lanes | null;
  /** Lets what is planned be dragged. */
  drag?: Drag;
  /** Without legend and table. */
  small?: boolean;
};

/** The ripeness lanes: drones above, queens below, and what they share around the insemination day. */
export function LanesDrawing({ lanes, ghost = null, drag, small = false }: DrawingProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 720);
  const hatch = useId();
  const range = ghost === null ? lanes : { from: min(lanes.from, ghost.from), to: max(lanes.to, ghost.to) };
  const scale = dayScale(range, width);
  const layout = layoutOf(lanes);
  return (
    <figure className="lanes">
      <figcaption>{lanesWords(ghost ?? lanes)}</figcaption>
      <div ref={box}>
        <svg width={width} height={layout.height} role="img" aria-label={lanesWords(lanes)}>
          <defs>
            <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path d="M0 0V6" className="hatch" />
            </pattern>
          </defs>
          <Overlap lanes={lanes} scale={scale} layout={layout} />
          <Axis
            scale={scale}
            insemination={lanes.insemination}
            moved={ghost?.insemination ?? lanes.insemination}
            height={layout.height}
          />
          <TodayLine lanes={lanes} scale={scale} height={layout.height} />
          <text x={2} y={AXIS + 18} className="lane-head">
            {say('lanes.drones')}
          </text>
          <text x={2} y={layout.queensHead + 18} className="lane-head">
            {say('lanes.queens')}
          </text>
          {[...layout.drones, ...layout.queens].map((placed) => (
            <LaneBar key={placed.lane.key} {...placed} scale={scale} hatch={hatch} />
          ))}
          {ghost === null ? (
            <OldPlan scale={scale} layout={layout} />
          ) : (
            <Ghost ghost={ghost} scale={scale} layout={layout} />
          )}
          {drag === undefined ? null : <Handles lanes={lanes} scale={scale} layout={layout} drag={drag} />}
        </svg>
      </div>
      {small ? null : <LanesTable lanes={lanes} />}
    </figure>
  );
}

const min = (a: Day, b: Day): Day => (a < b ? a : b);
const max = (a: Day, b: Day): Day => (a > b ? a : b);
