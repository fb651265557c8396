import { settleWorry } from '#actions/history/settle-worry.ts';
import { stepBack } from '#actions/history/step-back.ts';
import type { DoseReading, TwoReadings } from '#questions/bench/two-readings.ts';
import type { RecordId } from '#units/record-id.ts';
import { say } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { calledOf } from '../../parts/identity-band.tsx';
import { Problems } from '../../parts/problems.tsx';

const readingWords = ({ moment, given, tubes }: DoseReading): string =>
  say('bench.twice.reading', {
    at: moment?.slice(11, 16) ?? '–',
    given: given === null ? '–' : given.toFixed(1),
    tubes: tubes.join(' + ') || '–',
  });

/** Two doses recorded for one queen on one day, as by two devices that could not hear of each other: see both, choose. */
export function TwoReadingsRow({ of }: { of: TwoReadings }) {
  const { run, busy, problems } = useDo();
  const settle = (how: string) => run(settleWorry, { worry: of.worry as RecordId, how });
  const onlyThis = async (kept: DoseReading) => {
    for (const { act } of of.readings.filter((each) => each !== kept)) {
      const did = await run(stepBack, { act: act as RecordId, with_later: true });
      // The doubt goes with the act that raised it.
      if ('problems' in did || act === of.raisedBy) return;
    }
    await settle(say('bench.twice.kept', { reading: readingWords(kept) }));
  };
  return (
    <li className="stack tight two-readings">
      <p>
        <strong className="code">{calledOf(of.face)}</strong> {say('bench.twice')}
      </p>
      <ul className="plain-list">
        {of.readings.map((reading) => (
          <li key={reading.act} className="cluster">
            <span>{readingWords(reading)}</span>
            <button type="button" className="button" disabled={busy} onClick={() => void onlyThis(reading)}>
              {say('bench.twice.only')}
            </button>
          </li>
        ))}
      </ul>
      <button type="button" className="button" disabled={busy} onClick={() => void settle(say('bench.twice.both'))}>
        {say('bench.twice.both')}
      </button>
      <Problems problems={problems} title={say('form.not-kept')} />
    </li>
  );
}
