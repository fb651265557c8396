import { Link } from '@tanstack/react-router';
import type { StoryEvent } from '#questions/stock/story.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { say } from '#words/say.ts';
import { besideWords, eventWords } from '#words/story-words.ts';

function When({ day, latest }: StoryEvent) {
  if (day === null) return <span className="soft">{say('story.no-day')}</span>;
  const words =
    latest === null || latest === day
      ? dayWords(day)
      : say('story.span', { from: shortDay(day), to: shortDay(latest) });
  return <time dateTime={day}>{words}</time>;
}

/** A queen's story: what happened to her, in order, each event with its own history. */
export function Story({ events }: { events: readonly StoryEvent[] }) {
  if (events.length === 0) return <p className="soft">{say('story.nothing')}</p>;
  return (
    <ol className="story">
      {events.map((event) => {
        const more = besideWords(event);
        return (
          <li key={`${event.record.kind} ${event.record.id} ${event.code}`}>
            <span className="when">
              <When {...event} />
            </span>
            <span className="what">
              {eventWords(event)}
              {more === null ? null : <span className="soft"> · {more}</span>}
            </span>
            <Link to="/history/$record" params={{ record: event.record.id }} className="note">
              {say('edge.history')}
            </Link>
          </li>
        );
      })}
    </ol>
  );
}
