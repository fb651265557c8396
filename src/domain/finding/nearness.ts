/** What a person types and what is written differ in case, dashes, spaces and accents; none of these matter. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '');

/**
 * Edits (a letter added, left out, changed, or two swapped) that turn `a` into `b`: optimal string alignment.
 * @see Damerau 1964, Communications of the ACM 7:171; Navarro 2001, ACM Computing Surveys 33:31
 */
export function edits(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, (beforeLast[j - 2] ?? 0) + 1);
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? 0;
}

/**
 * How near what was typed is to a written code, name or note: 0 = not at all, larger = nearer.
 * The whole word comes first, then a beginning, then a part, then a word with one slip (from four letters on).
 */
export function nearness(typed: string, written: string): number {
  const want = plain(typed);
  const have = plain(written);
  if (want === '' || have === '') return 0;
  if (want === have) return 100;
  const shorter = want.length / have.length;
  if (have.startsWith(want)) return 60 + 20 * shorter;
  if (have.includes(want)) return 30 + 20 * shorter;
  const slips = want.length >= 7 ? 2 : want.length >= 4 ? 1 : 0;
  if (Math.abs(want.length - have.length) > slips) return 0;
  const made = edits(want, have);
  return made <= slips ? 20 - 5 * made : 0;
}
