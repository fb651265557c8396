/** A word as it is compared: lower case, without accents and signs; ß and ł as people without them type. */
export const plainWord = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replaceAll('ł', 'l')
    .replaceAll('ø', 'o')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/** Looks a word up in lists of words by what they mean; the whole text first, then its words. */
export function meaningOfWord<M extends string>(text: string, lists: Readonly<Record<M, readonly string[]>>): M | null {
  const plain = plainWord(text);
  if (plain === '') return null;
  const entries = Object.entries(lists) as [M, readonly string[]][];
  return entries.find(([, words]) => words.includes(plain))?.[0] ?? null;
}
