import { type Day, daysBetween } from '#units/calendar-day.ts';
import { dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { today } from '../link/this-device.ts';

/** How far off its plan something was done: "on the day", "8 days late". */
function offWords(planned: Day, done: Day): string {
  const later = daysBetween(planned, done);
  if (later === 0) return say('rearing.as-planned');
  return say(later > 0 ? 'season.days-late' : 'season.days-early', { n: Math.abs(later) });
}

/** The days a bar or comb was planned for, and how far off it was; nothing where it was never planned. */
export function PlannedFor({ planned, done }: { planned: readonly Day[]; done: Day | null }) {
  if (planned.length === 0) return null;
  return (
    <div>
      <dt>{say('rearing.planned-for')}</dt>
      <dd>
        {planned
          .map((on) => (done === null ? dayWords(on, today()) : `${dayWords(on, today())}, ${offWords(on, done)}`))
          .join('; ')}
      </dd>
    </div>
  );
}
