/** A key that writes a character, or Enter, with the time it went down in milliseconds. */
export type TypedKey = { key: string; at: number };

/** Characters typed so fast that only a reader does it, so far. */
export type WedgeState = { buffer: string; last: number };

/** What typed keys come to mean: a whole label of a reader, or a single key of a person. */
export type WedgeMeaning = { kind: 'label'; text: string } | { kind: 'key'; key: string } | { kind: 'broken-label' };

/** Longest pause within a label, milliseconds: readers type a character every 1-30 ms, people hardly under 60. */
export const WEDGE_GAP = 45;

export const quietWedge: WedgeState = { buffer: '', last: Number.NEGATIVE_INFINITY };

function flushed({ buffer }: WedgeState): WedgeMeaning[] {
  if (buffer === '') return [];
  return [...buffer].length === 1 ? [{ kind: 'key', key: buffer }] : [{ kind: 'broken-label' }];
}

type Next = { state: WedgeState; meanings: readonly WedgeMeaning[] };

/**
 * Tells a label reader that types from a person at the keys: characters in quick succession, ended by Enter, are a label; one
 * character alone is a key. A burst without its Enter is a broken label and does nothing.
 */
export function typed(state: WedgeState, { key, at }: TypedKey): Next {
  const isBurst = state.buffer !== '' && at - state.last <= WEDGE_GAP;
  if (key === 'Enter') {
    if (isBurst) return { state: quietWedge, meanings: [{ kind: 'label', text: state.buffer }] };
    return { state: quietWedge, meanings: [...flushed(state), { kind: 'key', key }] };
  }
  if (isBurst) return { state: { buffer: state.buffer + key, last: at }, meanings: [] };
  return { state: { buffer: key, last: at }, meanings: flushed(state) };
}

/** Time passes: what was typed last is complete once nothing more can belong to it. */
export function waited(state: WedgeState, at: number): Next {
  if (state.buffer === '' || at - state.last <= WEDGE_GAP) return { state, meanings: [] };
  return { state: quietWedge, meanings: flushed(state) };
}
