import type { ByNow } from '#domain/lessons/laying-clock.ts';
import type { BatchClock, RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import { say } from '#words/say.ts';
import { BelowAxis, LeftAxis, Plot, scale, stepPath, useRoom } from '../../lessons/plot.tsx';

const LAST_DAY = 28;
/** The last step known by a day. */
const stepAt = (steps: readonly ByNow[], day: number): ByNow | null =>
  steps.filter((step) => step.day <= day).at(-1) ?? null;

/** Share of the whole batch seen laying: rises only. */
const shareOf = (step: ByNow | null, { queens }: BatchClock) => (step === null ? 0 : step.laying / queens);

type Scales = { x: (day: number) => number; y: (share: number) => number };

const pathOf = (clock: BatchClock, lastDay: number, { x, y }: Scales): string =>
  stepPath([
    [x(0), y(0)],
    ...clock.steps.filter(({ day }) => day <= lastDay).map((step) => [x(step.day), y(shareOf(step, clock))] as const),
    [x(lastDay), y(shareOf(stepAt(clock.steps, lastDay), clock))],
  ]);

/**
 * The laying clock: rising steps of this queen's batch since its insemination, past batches as pale steps behind, and a dot for
 * her. Late or normally late is seen at once.
 */
export function LayingClock({ nuc, clock, past }: { nuc: RoundNuc; clock: BatchClock; past: RoundAnswer['past'] }) {
  const room = useRoom(210, 460);
  const x = scale([0, LAST_DAY], [room.left, room.right]);
  const y = scale([0, 1], [room.bottom, room.top]);
  const day = nuc.inseminated?.days ?? 0;
  const now = stepAt(clock.steps, day);
  const title = say('round.clock-title', { laying: now?.laying ?? 0, of: clock.queens, day });
  const pastAt = (on: number) => {
    const laying = past.reduce((sum, batch) => sum + (stepAt(batch.steps, on)?.laying ?? 0), 0);
    const of = past.reduce((sum, { queens }) => sum + queens, 0);
    return of === 0 ? '–' : say('lessons.counted', { laying, of });
  };
  const days = [7, 10, 14, 21, 28];
  const batchAt = (on: number) => {
    const laying = stepAt(clock.steps, on)?.laying ?? 0;
    return on > day ? '–' : say('lessons.counted', { laying, of: clock.queens });
  };
  return (
    <Plot
      title={title}
      summary={say('round.clock-summary')}
      room={room}
      table={{
        columns: [say('round.clock-day'), say('round.clock-batch'), say('round.clock-past')],
        rows: days.map((on) => [on, batchAt(on), pastAt(on)]),
      }}
    >
      <LeftAxis room={room} at={y} values={[0, 0.5, 1]} words={(share) => `${Math.round(share * clock.queens)}`} />
      <BelowAxis room={room} at={x} values={[0, 7, 14, 21, 28]} title={say('round.clock-day')} />
      {past.map((batch) => (
        <path key={batch.key} className="past-steps" d={pathOf(batch, LAST_DAY, { x, y })} />
      ))}
      <path className="batch-steps" d={pathOf(clock, Math.min(day, LAST_DAY), { x, y })} />
      {day > LAST_DAY ? null : (
        <circle className={nuc.hasEggs ? 'dot full' : 'dot'} cx={x(day)} cy={y(shareOf(now, clock))} r="6" />
      )}
    </Plot>
  );
}
