import type { GroupSurvival } from '#domain/lessons/survival-by-group.ts';
import { say } from '#words/say.ts';
import { percent } from './lessons-words.ts';
import { BelowAxis, LeftAxis, Plot, scale, stepPath, ticks, useRoom } from './plot.tsx';

/** Lines are told apart by their dashes and the name at their end, never by colour alone. */
const DASHES = [undefined, '7 5', '2 4', '12 4 2 4'] as const;
const LINE = 18;
/** Room for the names at the right, on the plot's grid. */
const MARGIN = 112;

type Placed = { one: GroupSurvival; dash: string | undefined; endY: number; wordsY: number };

/** Names in the margin from the top down, each as near to the end of its line as the one above leaves room for. */
function placed(groups: readonly GroupSurvival[], y: (share: number) => number): Placed[] {
  let below = Number.NEGATIVE_INFINITY;
  return groups
    .map((one, n) => ({ one, dash: DASHES[n], endY: y(one.curve.at(-1)?.alive ?? 1) }))
    .sort((a, b) => a.endY - b.endY)
    .map((at) => {
      below = Math.max(at.endY + 5, below + LINE);
      return { ...at, wordsY: below };
    });
}

type AgesProps = { groups: readonly GroupSurvival[]; title: string; nameOf: (group: string) => string };

/** Share alive by age, a line for each of the four largest groups; all of them in the table. */
export function AgesPlot({ groups, title, nameOf }: AgesProps) {
  const room = useRoom(300);
  const edge = room.right - MARGIN;
  const inner = { ...room, right: edge };
  const last = Math.max(60, ...groups.map(({ curve }) => (curve.at(-1)?.day ?? 0) + 10));
  const y = scale([0, 1], [room.bottom, room.top]);
  const x = scale([0, last], [room.left, edge]);
  const drawn = [...groups].sort((a, b) => b.queens - a.queens).slice(0, DASHES.length);
  const more = groups.length - drawn.length;
  const rest = more > 0 ? ` ${say('lessons.last-more', { n: more })}` : '';
  return (
    <Plot
      title={title}
      summary={`${say('lessons.last-summary')} ${say('lessons.last-sales')}${rest}`}
      room={room}
      table={{
        columns: [
          say('lessons.group'),
          say('lessons.last-age'),
          say('lessons.survival'),
          say('lessons.at-risk'),
          say('lessons.range'),
        ],
        rows: groups.flatMap(({ group, curve }) =>
          curve.map(({ day, alive, atRisk, low, high }) => [
            nameOf(group),
            day,
            percent(alive),
            atRisk,
            low === null || high === null ? '–' : `${percent(low)} – ${percent(high)}`,
          ]),
        ),
      }}
    >
      <LeftAxis room={inner} at={y} values={[0, 0.25, 0.5, 0.75, 1]} words={percent} />
      <BelowAxis room={inner} at={x} values={ticks(last)} title={say('lessons.last-age')} />
      {placed(drawn, y).map(({ one: { group, curve }, dash, endY, wordsY }) => (
        <g key={group}>
          <path
            className="line"
            strokeDasharray={dash}
            d={`${stepPath([[x(0), y(1)], ...curve.map(({ day, alive }) => [x(day), y(alive)] as const)])}H${edge}`}
          />
          <path className="leader" d={`M${edge} ${endY}L${edge + 8} ${wordsY - 5}`} />
          <text x={edge + 12} y={wordsY}>
            {nameOf(group)}
          </text>
        </g>
      ))}
    </Plot>
  );
}
