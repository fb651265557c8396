import { expect, test } from 'vitest';
import { jsonPieces } from './json-pieces.ts';

// Oracle: the language's own JSON.stringify.
test.each([
  [{}],
  [[1, 2]],
  [null],
  [{ a: 1, b: undefined, c: [null, undefined, 'x'], d: { e: Number.NaN } }],
  [{ long: Array.from({ length: 25_001 }, (_, k) => ({ k, text: `"${k}"` })), after: true }],
  [{ full: Array.from({ length: 20_000 }, (_, k) => k) }],
])('the pieces of %# are the text of one document', (value) => {
  expect([...jsonPieces(value)].join('')).toBe(JSON.stringify(value));
});

test('a list told one by one is written like one held whole', () => {
  function* told() {
    for (let k = 0; k < 20_001; k++) yield { k };
  }
  const list = { [Symbol.iterator]: told };
  expect([...jsonPieces({ list, none: [][Symbol.iterator]() })].join('')).toBe(
    JSON.stringify({ list: [...told()], none: [] }),
  );
});

test('a long list is never one string', () => {
  const longest = Math.max(...[...jsonPieces({ a: new Array(100_000).fill(1234) })].map((piece) => piece.length));
  expect(longest).toBeLessThan(60_000);
});
