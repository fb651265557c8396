import type { Day } from '#units/calendar-day.ts';
import { headingWords } from './column-words.ts';
import { type ColumnMeaning, dayMeanings, type Meaning, oneColumnOnly } from './meaning.ts';
import { meaningOfWord, plainWord } from './plain-words.ts';
import { readDay } from './read-day.ts';
import { type Cell, cellText, type TableRow } from './table.ts';
import { colourWords, fateWords } from './value-words.ts';

/** Rows looked at for what a column holds: from everywhere in the sheet, since old rows may leave columns empty. */
const SAMPLE = 600;
/** Rows in which a heading is looked for. */
const HEADING_ROWS = 15;

type Hit = { meaning: Meaning; score: number };

/** What a heading means: its whole text counts most, then the longest words in it. */
export function headingMeanings(heading: string): Hit[] {
  const plain = plainWord(heading);
  if (plain === '') return [];
  const padded = ` ${plain} `;
  return headingWords.flatMap(([meaning, words]): Hit[] => {
    if (words.includes(plain)) return [{ meaning, score: 10 }];
    const inside = words.filter((word) => word.length > 2 && padded.includes(` ${word} `));
    const longest = Math.max(0, ...inside.map((word) => word.length));
    return longest === 0 ? [] : [{ meaning, score: 5 + longest / 20 }];
  });
}

/** The index in `rows` of the row that names the columns: the one with most known headings, else the first with two cells. */
export function guessHeader(rows: readonly TableRow[]): number {
  const first = rows.slice(0, HEADING_ROWS);
  const hits = first.map(({ cells }) => cells.filter((cell) => headingMeanings(cellText(cell)).length > 0).length);
  const most = Math.max(...hits, 0);
  if (most >= 2) return hits.indexOf(most);
  const wide = first.findIndex(({ cells }) => cells.filter((cell) => cell !== '').length >= 2);
  return Math.max(0, wide);
}

/** What the cells of a column are like: shares of those that are not empty. */
type Likeness = {
  filled: number;
  days: number;
  years: number;
  numbers: number;
  small: number;
  colours: number;
  fates: number;
  distinct: number;
};

function likenessOf(cells: readonly Cell[], today: Day): Likeness {
  const texts = cells.map(cellText).filter((text) => text !== '');
  const share = (is: (text: string) => boolean) => (texts.length === 0 ? 0 : texts.filter(is).length / texts.length);
  const some = cells.filter((cell) => cell !== '');
  const asDays = some.filter((cell) => {
    const { is } = readDay(cell, { order: null, today });
    return (
      is === 'day' || is === 'either' || is === 'about' || is === 'no-year' || is === 'year' || is === 'impossible'
    );
  });
  return {
    filled: cells.length === 0 ? 0 : texts.length / cells.length,
    days: some.length === 0 ? 0 : asDays.length / some.length,
    years: share((text) => /^(19|20)\d\d$/.test(text)),
    numbers: share((text) => /^\d+([.,]\d+)?$/.test(text)),
    small: share((text) => /^\d{1,3}$/.test(text)),
    colours: share((text) =>
      plainWord(text)
        .split(' ')
        .some((word) => meaningOfWord(word, colourWords) !== null),
    ),
    fates: share((text) => meaningOfWord(text, fateWords) !== null),
    distinct: new Set(texts).size / Math.max(1, texts.length),
  };
}

/** How what a column holds speaks for or against a meaning. */
function contentScore(meaning: Meaning, like: Likeness): number {
  if (dayMeanings.has(meaning)) return like.days > 0.6 ? 4 : like.days < 0.2 ? -8 : 0;
  switch (meaning) {
    case 'year':
      return like.years > 0.8 ? 4 : -8;
    case 'colour':
      return like.colours > 0.5 ? 5 : -6;
    case 'disc':
      return like.small > 0.8 ? 2 : -6;
    case 'drone-count':
    case 'dose':
      return like.numbers > 0.8 ? 3 : -8;
    case 'drones':
      return like.numbers > 0.8 && like.small > 0.8 ? -6 : 0;
    case 'sisters':
      return like.small > 0.8 ? 2 : -8;
    case 'fate':
      return like.fates > 0.5 ? 4 : like.fates < 0.1 ? -3 : 0;
    case 'code':
      return like.distinct > 0.85 && like.filled > 0.9 ? 2 : like.distinct < 0.4 ? -6 : 0;
    default:
      return 0;
  }
}

/** A column without a telling heading is known by what it holds alone. */
const byContent: readonly (readonly [Meaning, (like: Likeness) => boolean])[] = [
  ['colour', (like) => like.colours > 0.8],
  ['fate', (like) => like.fates > 0.8],
  ['emerged', (like) => like.days > 0.9 && like.numbers < 0.5],
];

function candidates(heading: string, like: Likeness): Hit[] {
  const named = headingMeanings(heading).map(({ meaning, score }) => ({
    meaning,
    score: score + contentScore(meaning, like),
  }));
  // "Drones" may head their number as well as their mothers.
  if (named.some(({ meaning }) => meaning === 'drones') && like.numbers > 0.8)
    named.push({ meaning: 'drone-count', score: 9 });
  const seen = byContent.flatMap(([meaning, is]) => (is(like) ? [{ meaning, score: 4 }] : []));
  return [...named, ...seen].filter(({ score }) => score > 3).sort((a, b) => b.score - a.score);
}

/**
 * What each column most likely means, from its heading (six languages) and from what it holds. A column nobody knows is kept as a
 * note, an empty one left out. Every meaning but `note` is given once, to the column it fits best.
 */
export function guessColumns(headings: readonly string[], rows: readonly TableRow[], today: Day): ColumnMeaning[] {
  const step = Math.max(1, Math.ceil(rows.length / SAMPLE));
  const sample = rows.filter((_, i) => i % step === 0);
  const likes = headings.map((_, c) =>
    likenessOf(
      sample.map(({ cells }) => cells[c] ?? ''),
      today,
    ),
  );
  const wishes = headings.flatMap((heading, column) =>
    candidates(heading, likes[column] as Likeness).map((hit) => ({ column, ...hit })),
  );
  const taken = new Map<number, Meaning>();
  const given = new Set<Meaning>();
  for (const { column, meaning } of wishes.sort((a, b) => b.score - a.score || a.column - b.column)) {
    if (taken.has(column) || (oneColumnOnly.has(meaning) && given.has(meaning))) continue;
    taken.set(column, meaning);
    given.add(meaning);
  }
  if (!given.has('code')) {
    const first = likes.findIndex((like, column) => !taken.has(column) && like.distinct > 0.85 && like.filled > 0.8);
    if (first >= 0) taken.set(first, 'code');
  }
  return headings.map((_, column) => {
    const empty = likes[column]?.filled === 0 && rows.every(({ cells }) => (cells[column] ?? '') === '');
    return { meaning: taken.get(column) ?? (empty ? 'nothing' : 'note'), split: null };
  });
}
