import type { FunnelPoint } from '#domain/lessons/funnel.ts';
import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { groupName, percent, sentence } from './lessons-words.ts';
import { BelowAxis, LeftAxis, Plot, roomOf, scale, ticks } from './plot.tsx';

const room = roomOf(300);
const y = scale([0, 1], [room.bottom, room.top]);

function titleOf(points: readonly FunnelPoint[], by: Factor): string {
  const outside = points.filter((point) => point.outside !== null);
  if (points.every(({ hollow }) => hollow)) return say('lessons.funnel-few');
  if (outside.length === 0) return say('lessons.funnel-in');
  const what = outside.map(({ group }) => groupName(by, group)).join(', ');
  return sentence(say('lessons.funnel-out', { what, n: outside.length }));
}

type PointProps = { point: FunnelPoint; by: Factor; x: (of: number) => number; words: 'left' | 'right' };

/** A group in the funnel; it leads to the queens behind it. */
function Point({ point, by, x, words }: PointProps) {
  const { group, laying, of, rate, hollow, outside } = point;
  const what = groupName(by, group);
  const name = say('lessons.point', { what, laying, of });
  return (
    <a href={`#behind-${group ?? ''}`} aria-label={name}>
      <circle
        className={`mark${hollow ? ' hollow' : ''}${outside === null ? '' : ' outside'}`}
        cx={x(of)}
        cy={y(rate)}
        r="6"
      />
      <text
        x={x(of) + (words === 'right' ? 10 : -10)}
        y={y(rate) + (rate > 0.95 ? 16 : rate < 0.05 ? -6 : 4)}
        textAnchor={words === 'right' ? 'start' : 'end'}
      >
        {what} {say('lessons.counted', { laying, of })}
      </text>
    </a>
  );
}

/** Success against number of queens, with the band luck explains; fewer than five queens are hollow and never called out. */
export function FunnelPlot({ funnel, by }: { funnel: NonNullable<LessonsAnswer['funnel']>; by: Factor }) {
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
      {funnel.points.map((point) => (
        <Point
          key={point.group ?? ''}
          point={point}
          by={by}
          x={x}
          words={x(point.of) > room.width * 0.6 ? 'left' : 'right'}
        />
      ))}
    </Plot>
  );
}
