import { describe, expect, test } from 'vitest';
import { quietWedge, type TypedKey, typed, WEDGE_GAP, type WedgeMeaning, waited } from './wedge.ts';

/** Plays typed keys and, at the end, enough time for the last to be complete. */
function meanings(keys: readonly TypedKey[]): WedgeMeaning[] {
  let state = quietWedge;
  const all: WedgeMeaning[] = [];
  for (const key of keys) {
    const late = waited(state, key.at);
    const next = typed(late.state, key);
    all.push(...late.meanings, ...next.meanings);
    state = next.state;
  }
  all.push(...waited(state, (keys.at(-1)?.at ?? 0) + WEDGE_GAP + 1).meanings);
  return all;
}

const burst = (text: string, from: number, gap: number): TypedKey[] =>
  [...text].map((key, i) => ({ key, at: from + i * gap }));
const scanned = (text: string, from: number, gap = 8): TypedKey[] => [
  ...burst(text, from, gap),
  { key: 'Enter', at: from + text.length * gap },
];

describe('a reader that types', () => {
  test.each([1, 8, 20, 30, WEDGE_GAP])('a label typed every %i ms is one label', (gap) => {
    expect(meanings(scanned('27-014', 0, gap))).toEqual([{ kind: 'label', text: '27-014' }]);
  });

  test('one digit and its Enter at reader speed is a label, not a leak', () => {
    expect(meanings(scanned('1', 0))).toEqual([{ kind: 'label', text: '1' }]);
  });

  test('a burst that lost its Enter does nothing and spoils nothing after it', () => {
    expect(meanings([...burst('27-014', 0, 8), ...scanned('27-015', 500)])).toEqual([
      { kind: 'broken-label' },
      { kind: 'label', text: '27-015' },
    ]);
  });
});

describe('a person at the keys', () => {
  test('digits pressed by a person are single keys, also two of them', () => {
    expect(
      meanings([
        { key: '1', at: 0 },
        { key: '8', at: 220 },
      ]),
    ).toEqual([
      { kind: 'key', key: '1' },
      { kind: 'key', key: '8' },
    ]);
  });

  test('Enter alone is a key', () => {
    expect(meanings([{ key: 'Enter', at: 0 }])).toEqual([{ kind: 'key', key: 'Enter' }]);
  });

  test('a digit and, later, Enter are two keys', () => {
    expect(
      meanings([
        { key: '1', at: 0 },
        { key: 'Enter', at: 300 },
      ]),
    ).toEqual([
      { kind: 'key', key: '1' },
      { kind: 'key', key: 'Enter' },
    ]);
  });
});
