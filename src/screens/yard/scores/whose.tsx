import { judgeReading } from '#actions/yard/judge-reading.ts';
import type { TodaysReading } from '#questions/yard/score-cards.ts';
import type { Day } from '#units/calendar-day.ts';
import { shortDay } from '#words/day-words.ts';
import { say, sayAny } from '#words/say.ts';
import { useDo } from '../../link/use-do.ts';
import { sayRefusals } from '../../parts/problems.tsx';
import { tell } from '../../parts/told.tsx';

/** What says whose a reading is. */
export type Whose = { hers: 'wholly' | 'partly' | 'not'; why: string; code: string; countsFrom: Day | null; on: Day };

/** Whose a reading is, in a sentence. */
export function whoseWords({ hers, why, code, countsFrom, on }: Whose): string {
  if (hers === 'wholly') return say(why === 'judged' ? 'score.hers-by' : 'score.hers', { code });
  if (why === 'judged') return say('score.not-hers-judged', { code });
  if (why === 'nobody') return say('score.not-hers-nobody');
  if (why === 'two-queens') return say('score.not-hers-two');
  if (countsFrom === null || countsFrom <= on) return say('score.not-hers-early', { code });
  return say('score.not-hers-turnover', { code, day: shortDay(countsFrom) });
}

const judgements = ['wholly', 'partly', 'not', null] as const;

/** A person judges whose the readings are; the rule of turnover steps back. */
export function Judge({ readings }: { readings: readonly Pick<TodaysReading, 'id' | 'judged'>[] }) {
  const { run, busy } = useDo();
  const judged = readings[0]?.judged ?? null;
  const judge = async (hers: (typeof judgements)[number]) => {
    for (const { id } of readings) {
      const did = await run(judgeReading, { score: id, hers });
      if ('problems' in did) return tell(sayRefusals(did.problems));
    }
    tell(say('score.judged'));
  };
  return (
    <fieldset className="spring-choices judge">
      <legend>{say('score.judge')}</legend>
      {judgements.map((each) => (
        <button
          key={each ?? 'rule'}
          type="button"
          className="spring-choice"
          disabled={busy}
          aria-pressed={judged === each}
          onClick={() => void judge(each)}
        >
          {sayAny(`score.judge.${each ?? 'rule'}`)}
        </button>
      ))}
    </fieldset>
  );
}
