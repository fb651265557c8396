/**
 * From which rows without older neighbours each row descends, as two sets of hashed bits (Bloom 1970, Comm ACM 13:422): two rows of which
 * either sets are disjoint share no older row, so their covariance is exactly 0 and needs no walk. In a large population of many founders most pairs
 * are such.
 */

/** Words of one set. */
const WORDS = 8;
const BOTH = 2 * WORDS;

/** The older rows of each row, as in a recursion. */
type Terms = { readonly size: number; readonly start: Int32Array; readonly older: Int32Array };

/** {@link BOTH} words a row. Rows without younger ones have an empty set: they are nobody's older row. */
export type FounderSets = Int32Array;

/** The sets of all rows that have younger ones: `rows × 16` words, a row's two sets side by side (64 bytes a row). O(terms). */
export function founderSets({ size, start, older }: Terms): FounderSets {
  const hasYounger = new Uint8Array(size);
  for (let k = 0; k < older.length; k++) hasYounger[older[k] as number] = 1;
  const sets = new Int32Array(BOTH * size);
  for (let i = 0; i < size; i++) {
    if (hasYounger[i] === 0) continue;
    const at = BOTH * i;
    const from = start[i] as number;
    const to = start[i + 1] as number;
    if (from === to) {
      // 3 bits choose the word of each set, 5 its bit; the multiplier is 2³² over the golden ratio (Knuth 1998, vol. 3, § 6.4)
      const hash = Math.imul(i, 0x9e3779b1);
      sets[at + (hash >>> 29)] = 1 << ((hash >>> 24) & 31);
      sets[at + WORDS + ((hash >>> 21) & 7)] = 1 << ((hash >>> 16) & 31);
    }
    for (let k = from; k < to; k++) {
      const other = BOTH * (older[k] as number);
      for (let w = 0; w < BOTH; w++) sets[at + w] = (sets[at + w] as number) | (sets[other + w] as number);
    }
  }
  return sets;
}

/** Whether two rows that have younger ones may share an older row (or be it); `false` is certain. */
export const mayShareFounder = (sets: FounderSets, i: number, j: number): boolean =>
  overlap(sets, BOTH * i, BOTH * j) && overlap(sets, BOTH * i + WORDS, BOTH * j + WORDS);

function overlap(sets: FounderSets, a: number, b: number): boolean {
  for (let w = 0; w < WORDS; w++) if (((sets[a + w] as number) & (sets[b + w] as number)) !== 0) return true;
  return false;
}
