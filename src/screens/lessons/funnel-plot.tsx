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

/** Where a group stands, and the height of its name in the margin. */
type Placed = { point: FunnelPoint; x: number; y: number; wordsY: number };

const LINE = 18;
/** Room for the names at the right, on the plot's grid. */
const MARGIN = 132;

/** Names in the margin from the top down, each as near to its point as the one above leaves room for. */
function placed(points: readonly Omit<Placed, 'wordsY'>[]): Placed[] {
  let below = Number.NEGATIVE_INFINITY;
  return [...points]
    .sort((a, b) => a.y - b.y)
    .map((at) => {
      below = Math.max(at.y + 5, below + LINE);
      return { ...at, wordsY: below };
    });
}

/** A group in the funnel; it leads to the queens behind it. */
function Point({ at: { point, x, y, wordsY }, by, edge }: { at: Placed; by: Factor; edge: number }) {
  const { group, laying, of, hollow, outside } = point;
  const words = say('lessons.point', { what: groupName(by, group), laying, of });
  const classes = ['mark', hollow ? 'hollow' : '', outside === null ? '' : 'outside'].filter(Boolean).join(' ');
  return (
    <a href={`#behind-${group ?? ''}`} aria-label={words}>
      <path className="leader" d={`M${x} ${y}L${edge} ${wordsY - 5}`} />
      <circle className={classes} cx={x} cy={y} r="6" />
      <text x={edge + 4} y={wordsY}>
        {words}
      </text>
    </a>
  );
}

/** Success against number of queens, with the band luck explains; fewer than five queens are hollow and never called out. */
export function FunnelPlot({ funnel, by }: { funnel: NonNullable<LessonsAnswer['funnel']>; by: Factor }) {
  const room = useRoom(310);
  const y = scale([0, 1], [room.bottom, room.top]);
  const most = Math.max(...funnel.points.map(({ of }) => of));
  const edge = room.right - MARGIN;
  const inner = { ...room, right: edge - 6 };
  const x = scale([0, most + 0.5], [room.left, inner.right]);
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
      <path className="usual" d={`M${room.left} ${y(funnel.usual)}H${inner.right}`} />
      <LeftAxis room={inner} at={y} values={[0, 0.25, 0.5, 0.75, 1]} words={percent} />
      <BelowAxis room={inner} at={x} values={ticks(most)} title={say('lessons.queens')} />
      {placed(
        funnel.points.map((point) => ({
          point,
          x: x(point.of),
          y: y(point.rate),
        })),
      ).map((at) => (
        <Point key={at.point.group ?? ''} at={at} by={by} edge={edge} />
      ))}
    </Plot>
  );
}
