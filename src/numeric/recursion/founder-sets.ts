/**
 * From which rows without older neighbours each row descends, as three sets of hashed bits (Bloom 1970, Comm ACM 13:422): two rows of which
 * any sets are disjoint share no older row, so their covariance is exactly 0 and needs no walk. In a large population of many founders most pairs
 * are such.
 */

/** Words of one set. */
const WORDS = 8;
const ALL = 3 * WORDS;

/** The older rows of each row, as in a recursion. */
type Terms = { readonly size: number; readonly start: Int32Array; readonly older: Int32Array };

/**
 * The sets of each row that has younger ones, side by side from `word[at[row]]`; a row of one older row has the same ones. A row without younger ones
 * has 0 there: it is nobody's older row, and its sets are put together when asked for.
 */
export type FounderSets = { readonly at: Int32Array; readonly word: Int32Array };

/** Two places for the sets of rows without younger ones. */
const FIRST_KEPT = 2 * ALL;

/**
 * Sets to be filled by {@link gatherFounders}. O(terms). Memory: 4 bytes a row and 96 bytes a row that has younger ones and not one older row only.
 * @example makeFounderSets(workedRecursion).at // [48, 72, 0]; rows 0 and 1 have younger ones, row 2 has none
 */
export function makeFounderSets({ size, start, older }: Terms): FounderSets {
  const at = new Int32Array(size);
  for (let k = 0; k < older.length; k++) at[older[k] as number] = 1;
  let end = FIRST_KEPT;
  for (let i = 0; i < size; i++) {
    if (at[i] === 0) continue;
    const first = start[i] as number;
    if ((start[i + 1] as number) - first === 1) at[i] = at[older[first] as number] as number;
    else {
      at[i] = end;
      end += ALL;
    }
  }
  return { at, word: new Int32Array(end) };
}

/**
 * Fills the sets of a row with younger ones, those of its older rows being filled.
 * `word` gains three hashed bits for a row without older ones, the union of its older rows' sets else; rows of one older row share that row's. O(terms of the row).
 * @example const sets = makeFounderSets(workedRecursion);
 * for (const row of [0, 1]) gatherFounders(sets, workedRecursion, row);
 * mayMeet(sets.word, foundersOf(sets, workedRecursion, 0, 0), foundersOf(sets, workedRecursion, 1, 1)) // false; two founders
 */
export function gatherFounders({ at, word }: FounderSets, terms: Terms, row: number): void {
  const from = terms.start[row] as number;
  if (from === terms.start[row + 1]) addFounder(word, at[row] as number, row);
  else if ((terms.start[row + 1] as number) - from > 1) unite({ at, word }, terms, { row, to: at[row] as number });
}

/**
 * Where the sets of a row begin in `word`; those of a row without younger ones are put together in a place of the side asked for.
 * An index into `word`, valid until the same side is asked for again.
 * @example foundersOf(makeFounderSets(workedRecursion), workedRecursion, 1, 0) // 72
 */
export function foundersOf(sets: FounderSets, terms: Terms, row: number, side: 0 | 1): number {
  const known = sets.at[row] as number;
  if (known !== 0) return known;
  const to = side * ALL;
  const from = terms.start[row] as number;
  // a founder without younger rows is shared with nobody
  if (from === terms.start[row + 1]) sets.word.fill(0, to, to + ALL);
  else unite(sets, terms, { row, to });
  return to;
}

function unite({ at, word }: FounderSets, { start, older }: Terms, { row, to }: { row: number; to: number }): void {
  const from = start[row] as number;
  const stop = start[row + 1] as number;
  // nearly all rows have two older ones: their set is written once
  const one = at[older[from] as number] as number;
  const other = at[older[Math.min(from + 1, stop - 1)] as number] as number;
  for (let w = 0; w < ALL; w++) word[to + w] = (word[one + w] as number) | (word[other + w] as number);
  for (let k = from + 2; k < stop; k++) {
    const more = at[older[k] as number] as number;
    for (let w = 0; w < ALL; w++) word[to + w] = (word[to + w] as number) | (word[more + w] as number);
  }
}

/** 3 bits of a hash choose the word of each set, 5 its bit; the multiplier is 2³² over the golden ratio (Knuth 1998, vol. 3, § 6.4). */
function addFounder(word: Int32Array, at: number, founder: number): void {
  const hash = Math.imul(founder, 0x9e3779b1);
  word[at + (hash >>> 29)] = 1 << ((hash >>> 24) & 31);
  word[at + WORDS + ((hash >>> 21) & 7)] = 1 << ((hash >>> 16) & 31);
  word[at + 2 * WORDS + ((hash >>> 13) & 7)] = 1 << ((hash >>> 8) & 31);
}

/**
 * Whether rows whose sets begin at `a` and `b` may share an older row (or one be the other's); `false` is certain.
 * Bits are hashed, so `true` may be chance (Bloom 1970, Comm ACM 13:422).
 * @example const sets = makeFounderSets(workedRecursion);
 * for (const row of [0, 1]) gatherFounders(sets, workedRecursion, row);
 * mayMeet(sets.word, foundersOf(sets, workedRecursion, 0, 0), foundersOf(sets, workedRecursion, 2, 1)) // true; x₂ descends from x₀
 */
export const mayMeet = (word: Int32Array, a: number, b: number): boolean =>
  overlap(word, a, b) && overlap(word, a + WORDS, b + WORDS) && overlap(word, a + 2 * WORDS, b + 2 * WORDS);

function overlap(word: Int32Array, a: number, b: number): boolean {
  for (let w = 0; w < WORDS; w++) if (((word[a + w] as number) & (word[b + w] as number)) !== 0) return true;
  return false;
}
