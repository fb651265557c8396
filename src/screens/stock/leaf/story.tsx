import { Link } from '@tanstack/react-router';
import type { StoryEvent } from '#questions/stock/story.ts';
import { dayWords, shortDay } from '#words/day-words.ts';
import { language, say, sayAny } from '#words/say.ts';

const listed = (words: readonly string[]): string =>
  new Intl.ListFormat(language(), { type: 'conjunction' }).format(words);

/** Words for a look: what was seen in the nuc and whether she herself was. */
function lookWords({ saw, seen }: StoryEvent['values']): string {
  const sights = String(saw ?? '')
    .split(',')
    .filter((sight) => sight !== '')
    .map((sight) => sayAny(`story.sight.${sight}`));
  const her = seen === 'not-said' ? [] : [sayAny(`story.seen.${seen}`)];
  return listed([...sights, ...her]) || say('story.looked-nothing');
}

/** What one event says. */
export function eventWords({ code, values }: StoryEvent): string {
  if (code === 'looked') return say('story.looked', { what: lookWords(values) });
  if (code === 'fate') return sayAny(`story.fate.${values.kind}`);
  if (code === 'marked') {
    if (values.colour === '')
      return Number(values.disc) > 0
        ? say('story.marked-only-disc', { disc: values.disc ?? '' })
        : say('story.clipped', { wing: sayAny(`clip.${values.clip}`) });
    const colour = sayAny(`mark.${values.colour}`);
    return Number(values.disc) > 0
      ? say('story.marked-disc', { colour, disc: values.disc ?? '' })
      : say('story.marked', { colour });
  }
  if (code === 'came') return say('story.came', { origin: sayAny(`origin.${values.origin}`) });
  if (code === 'inseminated' && Number(values.ul) > 0)
    return say('story.inseminated-dose', { ul: values.ul ?? '', from: values.from ?? '' });
  if (code === 'inseminated' && values.from === '') return say('story.inseminated-bare');
  if (code === 'not-inseminated') return say('story.not-inseminated', { why: sayAny(`story.not-done.${values.why}`) });
  if (code === 'introduced') return sayAny(`story.introduced-${values.accepted}`);
  if (code === 'co2') return Number(values.minutes) > 0 ? say('story.co2-minutes', values) : say('story.co2');
  if (code === 'care') return sayAny(`story.care-${values.form}`);
  return sayAny(`story.${code}`, values);
}

/** What stands below an event: exceptions, the cause of an end. */
function besides({ code, values }: StoryEvent): string | null {
  if (code === 'fate' && values.cause !== '') return String(values.cause);
  if (code === 'stands' && values.why !== '') return String(values.why);
  if (code !== 'inseminated' || values.exceptions === undefined || values.exceptions === '') return null;
  return listed(
    String(values.exceptions)
      .split(', ')
      .map((kind) => sayAny(`story.exception.${kind}`)),
  );
}

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
        const more = besides(event);
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
