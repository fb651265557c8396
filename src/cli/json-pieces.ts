/** Entries of a list written at one stroke. */
const AT_ONCE = 10_000;

const isList = (value: unknown): value is Iterable<unknown> =>
  typeof value === 'object' && value !== null && Symbol.iterator in value;

/** Entries in runs of {@link AT_ONCE}; the last may be shorter. */
function* inRuns(list: Iterable<unknown>): Generator<unknown[]> {
  let run: unknown[] = [];
  for (const entry of list) {
    run.push(entry);
    if (run.length < AT_ONCE) continue;
    yield run;
    run = [];
  }
  if (run.length > 0) yield run;
}

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && !('toJSON' in value);

/**
 * The text of `JSON.stringify(value)` in pieces: the lists of the document's own keys some thousand entries at a time, because the answer about ten million
 * queens is longer than one string can be. A list may be anything that tells its entries one by one.
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
    if (!isList(part)) {
      yield named + JSON.stringify(part);
      continue;
    }
    yield `${named}[`;
    let comma = '';
    for (const run of inRuns(part)) {
      yield comma + JSON.stringify(run).slice(1, -1);
      comma = ',';
    }
    yield ']';
  }
  yield before === '{' ? '{}' : '}';
}
