import type { LessonsAnswer } from '#questions/yard/lessons.ts';
import { say } from '#words/say.ts';
import { percent } from './lessons-words.ts';
import { BelowAxis, LeftAxis, Plot, type Room, scale, stepPath, ticks, useRoom } from './plot.tsx';

type Step = { day: number; share: number; atRisk: number; low: number | null; high: number | null };

type Scales = { x: (day: number) => number; y: (share: number) => number };

/** The area between the low and the high edge of a step curve. */
function areaOf(steps: readonly Step[], { x, y }: Scales, last: number): string {
  const known = steps.filter(({ low, high }) => low !== null && high !== null);
  if (known.length === 0) return '';
  const edge = (of: (step: Step) => number) =>
    known.flatMap((step, n) => {
      const to = known[n + 1]?.day ?? last;
      return [`${x(step.day)} ${y(of(step))}`, `${x(to)} ${y(of(step))}`];
    });
  return `M${[...edge(({ high }) => high ?? 1), ...edge(({ low }) => low ?? 0).reverse()].join('L')}Z`;
}

type CurveProps = { title: string; summary: string; label: string; start: number; steps: readonly Step[] };

function Curve({ title, summary, label, start, steps }: CurveProps) {
  const room: Room = useRoom(250);
  const y = scale([0, 1], [room.bottom, room.top]);
  const last = Math.max(30, (steps.at(-1)?.day ?? 0) + 3);
  const x = scale([0, last], [room.left, room.right]);
  const points = [[x(0), y(start)] as const, ...steps.map(({ day, share }) => [x(day), y(share)] as const)];
  return (
    <Plot
      title={title}
      summary={summary}
      room={room}
      table={{
        columns: [say('lessons.day'), label, say('lessons.at-risk'), say('lessons.range')],
        rows: steps.map(({ day, share, atRisk, low, high }) => [
          day,
          percent(share),
          atRisk,
          low === null || high === null ? '–' : `${percent(low)} – ${percent(high)}`,
        ]),
      }}
    >
      <path className="spread-area" d={areaOf(steps, { x, y }, last)} />
      <LeftAxis room={room} at={y} values={[0, 0.25, 0.5, 0.75, 1]} words={percent} />
      <BelowAxis room={room} at={x} values={ticks(last)} title={say('lessons.day')} />
      <path className="line" d={`${stepPath(points)}H${x(last)}`} />
    </Plot>
  );
}

const plain = ({ low, high }: { low: number | null; high: number | null }) => ({
  low: low === null ? null : 1 - low,
  high: high === null ? null : 1 - high,
});

/** Laying over time: the share seen with capped worker brood. */
export function OnsetPlot({ onset }: Pick<LessonsAnswer['lessons'], 'onset'>) {
  const half = onset.find(({ laying }) => laying >= 0.5);
  const steps = onset.map(({ day, laying, atRisk, ...limits }) => {
    const { low, high } = plain(limits);
    return { day, share: laying, atRisk, low: high, high: low };
  });
  return (
    <Curve
      title={half === undefined ? say('lessons.onset-none') : say('lessons.onset-title', { day: half.day })}
      summary={say('lessons.onset-summary')}
      label={say('lessons.share')}
      start={0}
      steps={steps}
    />
  );
}

type Survival = LessonsAnswer['lessons']['survival'];

/** Survival: the share still there. */
export function SurvivalPlot({ survival, lost, queens }: { survival: Survival; lost: number; queens: number }) {
  const last = survival.at(-1);
  const title =
    last === undefined
      ? say('lessons.survival-none')
      : say('lessons.survival-title', { lost, queens, share: percent(last.alive), day: last.day });
  return (
    <Curve
      title={title}
      summary={say('lessons.survival-summary')}
      label={say('lessons.survival')}
      start={1}
      steps={survival.map(({ day, alive, atRisk, low, high }) => ({ day, share: alive, atRisk, low, high }))}
    />
  );
}
