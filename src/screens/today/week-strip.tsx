import { Link } from '@tanstack/react-router';
import type { WeekDay } from '#questions/today/today.ts';
import { dayParts, dayWords } from '#words/day-words.ts';
import { say } from '#words/say.ts';

/** A stroke for each piece of work that begins on a day; more than eight are said by their number. */
function Strokes({ work }: { work: number }) {
  if (work === 0) return <span className="strokes none">–</span>;
  if (work > 8) return <span className="strokes">{work}</span>;
  return (
    <svg className="strokes" viewBox={`0 0 ${work * 7} 16`} width={work * 7} height="16" aria-hidden="true">
      {Array.from({ length: work }, (_, i) => i * 7 + 3).map((x) => (
        <path key={x} d={`M${x} 2v12`} />
      ))}
    </svg>
  );
}

/** The seven days from today: how much begins on each, and which crosses are inseminated. */
export function WeekStrip({ week }: { week: readonly WeekDay[] }) {
  return (
    <ol className="week" aria-label={say('today.week')}>
      {week.map(({ day, work, crosses }, i) => (
        <li key={day} className={i === 0 ? 'now' : undefined}>
          <span className="visually-hidden">
            {dayWords(day)}: {say('today.work', { n: work })}
          </span>
          <span aria-hidden="true" className="weekday">
            {dayParts(day).weekday}
          </span>
          <span aria-hidden="true" className="date">
            {dayParts(day).date}
          </span>
          <Strokes work={work} />
          {crosses.map(({ id, code }) => (
            <Link key={id} to="/rearing/countback/$cross" params={{ cross: id }} className="insemination-day">
              {say('today.insemination', { code })}
            </Link>
          ))}
        </li>
      ))}
    </ol>
  );
}
