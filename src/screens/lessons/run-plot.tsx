import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { groupName, sentence } from './lessons-words.ts';
import { BelowAxis, LeftAxis, Plot, scale, ticks, useRoom } from './plot.tsx';

type RunProps = {
  run: LessonsAnswer['runs'][number];
  by: Factor;
  limits: LessonsAnswer['lessons']['runLine'];
  nameOf: (queen: string) => string;
};

/** The run line of one group, in the order of insemination: is something wrong now? */
export function RunPlot({ run: { group, points, signals }, by, limits, nameOf }: RunProps) {
  const room = useRoom(220, 400);
  const what = groupName(by, group);
  const most = Math.max(limits.signal + 1, ...points.map(({ height }) => height));
  const x = scale([0, Math.max(10, points.length)], [room.left, room.right]);
  const y = scale([0, most], [room.bottom, room.top]);
  const first = signals[0];
  const title =
    first === undefined
      ? say('lessons.run-quiet', { what, n: points.length })
      : say('lessons.run-signal', { what, at: first });
  const path = points.map(({ height }, n) => `L${x(n + 1)} ${y(height)}`).join('');
  return (
    <Plot
      title={sentence(title)}
      room={room}
      table={{
        columns: [say('lessons.run-order'), say('colony.queen'), say('lessons.run-height')],
        rows: points.map(({ queen, height }, n) => [n + 1, nameOf(queen), height]),
      }}
    >
      <LeftAxis room={room} at={y} values={ticks(most, 4)} />
      <BelowAxis room={room} at={x} values={ticks(Math.max(10, points.length))} title={say('lessons.run-order')} />
      <path className="usual" d={`M${room.left} ${y(limits.signal)}H${room.right}`} />
      <text x={room.left + 6} y={y(limits.signal) - 5}>
        {say('lessons.signal-line')}
      </text>
      <path className="line" d={`M${x(0)} ${y(0)}${path}`} />
      {points.map(({ queen, height }, n) => (
        <a key={queen + String(n)} href={`/stock/queen/${queen}`} aria-label={nameOf(queen)}>
          <circle className={signals.includes(n + 1) ? 'mark outside' : 'mark'} cx={x(n + 1)} cy={y(height)} r="4" />
        </a>
      ))}
    </Plot>
  );
}
