/** Entries of a list written at one stroke. */
const AT_ONCE = 10_000;

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && !('toJSON' in value);

/**
 * The text of `JSON.stringify(value)` in pieces: the long lists of the document's own keys some thousand entries at a time, because the answer about ten million
 * queens is longer than one string can be.
 */
export function* jsonPieces(value: unknown): Generator<string> {
  if (!isPlain(value)) {
    yield JSON.stringify(value);
    return;
  }
  let before = '{';
  for (const [key, part] of Object.entries(value)) {
    if (part === undefined || typeof part === 'function') continue;
    const named = `${before}${JSON.stringify(key)}:`;
    before = ',';
    if (!Array.isArray(part) || part.length <= AT_ONCE) {
      yield named + JSON.stringify(part);
      continue;
    }
    for (let from = 0; from < part.length; from += AT_ONCE) {
      const entries = JSON.stringify(part.slice(from, from + AT_ONCE)).slice(1, -1);
      yield (from === 0 ? `${named}[` : ',') + entries;
    }
    yield ']';
  }
  yield before === '{' ? '{}' : '}';
}
