import type { ByNow } from '#domain/lessons/laying-clock.ts';
import type { BatchClock, RoundAnswer, RoundNuc } from '#questions/yard/laying-round.ts';
import { say } from '#words/say.ts';
import { BelowAxis, LeftAxis, Plot, roomOf, scale, stepPath } from '../../lessons/plot.tsx';

const LAST_DAY = 28;
const room = roomOf(190, 420);
const x = scale([0, LAST_DAY], [room.left, room.right]);
const y = scale([0, 1], [room.bottom, room.top]);
const shareOf = ({ laying, of }: ByNow) => laying / of;

const pathOf = (steps: readonly ByNow[]): string =>
  stepPath(steps.filter(({ day }) => day <= LAST_DAY).map((step) => [x(step.day), y(shareOf(step))] as const));

/** The last step known by a day. */
const stepAt = (steps: readonly ByNow[], day: number): ByNow | null =>
  steps.filter((step) => step.day <= day).at(-1) ?? null;

/**
 * The laying clock: rising steps of this queen's batch since its insemination, past batches as pale steps behind, and a dot for
 * her. Late or normally late is seen at once.
 */
export function LayingClock({ nuc, clock, past }: { nuc: RoundNuc; clock: BatchClock; past: RoundAnswer['past'] }) {
  const day = nuc.inseminated?.days ?? 0;
  const now = stepAt(clock.steps, day);
  const known = clock.steps.filter((step) => step.day <= day);
  const title = say('round.clock-title', { laying: now?.laying ?? 0, of: now?.of ?? clock.queens, day });
  const pastAt = (on: number) => {
    const steps = past.flatMap((batch) => stepAt(batch, on) ?? []);
    const sum = steps.reduce((all, { laying, of }) => ({ laying: all.laying + laying, of: all.of + of }), {
      laying: 0,
      of: 0,
    });
    return sum.of === 0 ? '–' : say('lessons.counted', sum);
  };
  const days = [7, 10, 14, 21, 28];
  const batchAt = (on: number) => {
    const step = on <= day ? stepAt(known, on) : null;
    return step === null ? '–' : say('lessons.counted', { laying: step.laying, of: step.of });
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
      {past.map((steps) => (
        <path key={pathOf(steps)} className="past-steps" d={pathOf(steps)} />
      ))}
      <path className="batch-steps" d={pathOf(known)} />
      {day > LAST_DAY ? null : (
        <circle
          className={nuc.hasEggs ? 'dot full' : 'dot'}
          cx={x(day)}
          cy={y(now === null ? 0 : shareOf(now))}
          r="6"
        />
      )}
    </Plot>
  );
}
