import type { WordId } from '#words/say.ts';

/** One of the seven places: its address, its word, and the letter that follows `G`. */
export type PlaceLink = { path: string; words: WordId; key: string };

export const places: readonly PlaceLink[] = [
  { path: '/today', words: 'place.today', key: 'T' },
  { path: '/stock', words: 'place.stock', key: 'S' },
  { path: '/crosses', words: 'place.crosses', key: 'C' },
  { path: '/rearing', words: 'place.rearing', key: 'R' },
  { path: '/semen', words: 'place.semen', key: 'M' },
  { path: '/bench', words: 'place.bench', key: 'B' },
  { path: '/yard', words: 'place.yard', key: 'Y' },
];
