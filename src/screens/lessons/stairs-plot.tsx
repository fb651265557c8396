import type { Stair } from '#domain/lessons/losses.ts';
import type { Factor, LessonsAnswer } from '#questions/yard/lessons.ts';
import { say, sayAny } from '#words/say.ts';
import { groupName } from './lessons-words.ts';
import { Plot, scale, useRoom } from './plot.tsx';

/** Descending bars with counts; dashed beyond them what is still open. */
function Stairs({
  stairs,
  top,
  x,
  rowHeight,
}: {
  stairs: readonly Stair[];
  top: number;
  x: (n: number) => number;
  rowHeight: number;
}) {
  const all = stairs[0]?.of ?? 0;
  return stairs.map(({ step, reached, of }, n) => {
    const y = top + n * rowHeight;
    return (
      <g key={step}>
        <rect
          className="stair open"
          x={x(0)}
          y={y}
          width={Math.max(0, x(reached + all - of) - x(0))}
          height={rowHeight - 8}
        />
        <rect className="stair" x={x(0)} y={y} width={Math.max(1, x(reached) - x(0))} height={rowHeight - 8} />
        <text x={x(0) - 8} y={y + rowHeight / 2} textAnchor="end">
          {sayAny(`lessons.step.${step}`)}
        </text>
        <text x={x(reached + all - of) + 8} y={y + rowHeight / 2}>
          {say('lessons.counted', { laying: reached, of })}
        </text>
      </g>
    );
  });
}

/** Where the queens went: steps down from inseminated to still there, all queens first, then each group in the table. */
export function StairsPlot({ stairs, by }: { stairs: LessonsAnswer['stairs']; by: Factor }) {
  const all = stairs[0]?.stairs ?? [];
  const rowHeight = 34;
  const room = useRoom(all.length * rowHeight + 20);
  const x = scale([0, Math.max(1, all[0]?.of ?? 1)], [160, room.width - 76]);
  const laying = all.find(({ step }) => step === 'laying');
  return (
    <Plot
      title={say('lessons.stairs-title', { from: all[0]?.reached ?? 0, to: laying?.reached ?? 0 })}
      summary={say('lessons.stairs-summary')}
      room={room}
      table={{
        columns: [say('lessons.group'), ...all.map(({ step }) => sayAny(`lessons.step.${step}`))],
        rows: stairs.map(({ group, stairs: steps }, n) => [
          n === 0 ? say('lessons.all') : groupName(by, group),
          ...steps.map(({ reached, of }) => say('lessons.counted', { laying: reached, of })),
        ]),
      }}
    >
      <Stairs stairs={all} top={14} x={x} rowHeight={rowHeight} />
    </Plot>
  );
}
