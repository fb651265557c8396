/**
 * From which rows without older neighbours each row descends, as a set of hashed bits (Bloom 1970, Comm ACM 13:422, with one hash): two rows whose sets
 * are disjoint share no older row, so their covariance is exactly 0 and needs no walk. In a large stock of many founders most pairs are such.
 */

const WORDS = 8;

/** The older rows of each row, as in a recursion. */
type Terms = { readonly size: number; readonly start: Int32Array; readonly older: Int32Array };

/** {@link WORDS} words a row. Rows without younger ones have an empty set: they are nobody's older row. */
export type FounderSets = Int32Array;

/** The sets of all rows that have younger ones. O(terms). */
export function founderSets({ size, start, older }: Terms): FounderSets {
  const hasYounger = new Uint8Array(size);
  for (let k = 0; k < older.length; k++) hasYounger[older[k] as number] = 1;
  const sets = new Int32Array(WORDS * size);
  for (let i = 0; i < size; i++) {
    if (hasYounger[i] === 0) continue;
    const at = WORDS * i;
    const from = start[i] as number;
    const to = start[i + 1] as number;
    if (from === to) {
      // 5 bits choose the bit of a word, 4 the word; the multiplier is 2³² over the golden ratio (Knuth 1998, vol. 3, § 6.4)
      const hash = Math.imul(i, 0x9e3779b1) >>> 24;
      sets[at + (hash >> 5)] = 1 << (hash & 31);
    }
    for (let k = from; k < to; k++) {
      const other = WORDS * (older[k] as number);
      for (let w = 0; w < WORDS; w++) sets[at + w] = (sets[at + w] as number) | (sets[other + w] as number);
    }
  }
  return sets;
}

/** Whether two rows that have younger ones may share an older row (or be it); `false` is certain. */
export function mayShareFounder(sets: FounderSets, i: number, j: number): boolean {
  for (let w = 0; w < WORDS; w++)
    if (((sets[WORDS * i + w] as number) & (sets[WORDS * j + w] as number)) !== 0) return true;
  return false;
}
