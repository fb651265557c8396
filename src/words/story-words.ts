import { language, say, sayAny, type Values } from './say.ts';

/** An event of a queen's story, as far as words need it. */
type WordedEvent = { code: string; values: Values };

const listed = (words: readonly string[]): string =>
  new Intl.ListFormat(language(), { type: 'conjunction' }).format(words);

/** Words for a look: what was seen in the nuc and whether she herself was. */
function lookWords({ saw, seen }: Values): string {
  const sights = String(saw ?? '')
    .split(',')
    .filter((sight) => sight !== '')
    .map((sight) => sayAny(`story.sight.${sight}`));
  const her = seen === 'not-said' ? [] : [sayAny(`story.seen.${seen}`)];
  return listed([...sights, ...her]) || say('story.looked-nothing');
}

function markedWords({ colour, disc, clip }: Values): string {
  const hasDisc = Number(disc) > 0;
  if (colour === '')
    return hasDisc
      ? say('story.marked-only-disc', { disc: disc ?? '' })
      : say('story.clipped', { wing: sayAny(`clip.${clip}`) });
  const words = sayAny(`mark.${colour}`);
  return hasDisc
    ? say('story.marked-disc', { colour: words, disc: disc ?? '' })
    : say('story.marked', { colour: words });
}

function inseminatedWords({ ul, from }: Values): string {
  if (Number(ul) > 0) return say('story.inseminated-dose', { ul: ul ?? '', from: from ?? '' });
  return from === '' ? say('story.inseminated-bare') : say('story.inseminated', { from: from ?? '' });
}

const special: Readonly<Record<string, (values: Values) => string>> = {
  looked: (values) => say('story.looked', { what: lookWords(values) }),
  fate: ({ kind }) => sayAny(`story.fate.${kind}`),
  marked: markedWords,
  came: ({ origin }) => say('story.came', { origin: sayAny(`origin.${origin}`) }),
  inseminated: inseminatedWords,
  'not-inseminated': ({ why }) => say('story.not-inseminated', { why: sayAny(`story.not-done.${why}`) }),
  introduced: ({ accepted }) => sayAny(`story.introduced-${accepted}`),
  co2: (values) => (Number(values.minutes) > 0 ? say('story.co2-minutes', values) : say('story.co2')),
  care: ({ form }) => sayAny(`story.care-${form}`),
};

/** What one event of a queen's story says. */
export const eventWords = ({ code, values }: WordedEvent): string =>
  special[code]?.(values) ?? sayAny(`story.${code}`, values);

/** What stands beside an event: exceptions, the cause of an end, why she was moved; `null` when nothing does. */
export function besideWords({ code, values }: WordedEvent): string | null {
  if (code === 'fate' && values.cause !== '') return String(values.cause);
  if (code === 'stands' && values.why !== '') return String(values.why);
  if (code !== 'inseminated' || values.exceptions === undefined || values.exceptions === '') return null;
  return listed(
    String(values.exceptions)
      .split(', ')
      .map((kind) => sayAny(`story.exception.${kind}`)),
  );
}
