import type { FunnelPoint } from '#domain/lessons/funnel.ts';
import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { groupName, percent, sentence } from './lessons-words.ts';
import { BelowAxis, LeftAxis, Plot, scale, ticks, useRoom } from './plot.tsx';

function titleOf(points: readonly FunnelPoint[], by: Factor): string {
  const outside = points.filter((point) => point.outside !== null);
  if (points.every(({ hollow }) => hollow)) return say('lessons.funnel-few');
  if (outside.length === 0) return say('lessons.funnel-in');
  const what = outside.map(({ group }) => groupName(by, group)).join(', ');
  return sentence(say('lessons.funnel-out', { what, n: outside.length }));
}

/** Where a group stands, and where its name stands beside it. */
type Placed = { point: FunnelPoint; x: number; y: number; side: 'start' | 'end'; wordsY: number };

const LINE = 17;

/** Names beside the points, moved down where two would stand on each other. */
function placed(points: readonly Omit<Placed, 'wordsY'>[]): Placed[] {
  const taken: { side: string; y: number }[] = [];
  const sorted = [...points].sort((a, b) => a.y - b.y);
  return sorted.map((at) => {
    let wordsY = at.y + 5;
    while (taken.some((other) => other.side === at.side && Math.abs(other.y - wordsY) < LINE)) wordsY += LINE;
    taken.push({ side: at.side, y: wordsY });
    return { ...at, wordsY };
  });
}

/** A group in the funnel; it leads to the queens behind it. */
function Point({ at: { point, x, y, side, wordsY }, by }: { at: Placed; by: Factor }) {
  const { group, laying, of, hollow, outside } = point;
  const what = groupName(by, group);
  const classes = ['mark', hollow ? 'hollow' : '', outside === null ? '' : 'outside'].filter(Boolean).join(' ');
  return (
    <a href={`#behind-${group ?? ''}`} aria-label={say('lessons.point', { what, laying, of })}>
      <circle className={classes} cx={x} cy={y} r="6" />
      <text x={x + (side === 'start' ? 11 : -11)} y={wordsY} textAnchor={side}>
        {what} {say('lessons.counted', { laying, of })}
      </text>
    </a>
  );
}

/** Success against number of queens, with the band luck explains; fewer than five queens are hollow and never called out. */
export function FunnelPlot({ funnel, by }: { funnel: NonNullable<LessonsAnswer['funnel']>; by: Factor }) {
  const room = useRoom(310);
  const y = scale([0, 1], [room.bottom, room.top]);
  const most = Math.max(...funnel.points.map(({ of }) => of));
  const x = scale([0, most + 1], [room.left, room.right]);
  const upper = funnel.band.map(({ of, high }) => `${x(of)} ${y(high)}`);
  const lower = [...funnel.band].reverse().map(({ of, low }) => `${x(of)} ${y(low)}`);
  return (
    <Plot
      title={titleOf(funnel.points, by)}
      summary={say('lessons.funnel-summary', { usual: percent(funnel.usual) })}
      room={room}
      table={{
        columns: [say('lessons.group'), say('lessons.known'), say('lessons.luck-band')],
        rows: funnel.points.map(({ group, laying, of, low, high, hollow }) => [
          groupName(by, group),
          say('lessons.counted', { laying, of }),
          hollow ? say('lessons.few') : `${Math.round(low * of)} – ${Math.round(high * of)}`,
        ]),
      }}
    >
      {funnel.band.length < 2 ? null : <path className="band" d={`M${[...upper, ...lower].join('L')}Z`} />}
      <path className="usual" d={`M${room.left} ${y(funnel.usual)}H${room.right}`} />
      <LeftAxis room={room} at={y} values={[0, 0.25, 0.5, 0.75, 1]} words={percent} />
      <BelowAxis room={room} at={x} values={ticks(most)} title={say('lessons.queens')} />
      {placed(
        funnel.points.map((point) => ({
          point,
          x: x(point.of),
          y: y(point.rate),
          side: x(point.of) > room.width * 0.55 ? 'end' : 'start',
        })),
      ).map((at) => (
        <Point key={at.point.group ?? ''} at={at} by={by} />
      ))}
    </Plot>
  );
}
