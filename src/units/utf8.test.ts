import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decodeUtf8, encodeUtf8, firstInvalidUtf8 } from './utf8.ts';

// Oracle: TextDecoder and TextEncoder of the WHATWG Encoding Standard, as Node provides them.
test('agrees with the Encoding Standard on any text', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
      const bytes = new TextEncoder().encode(text);
      expect(encodeUtf8(text)).toEqual(bytes);
      expect(decodeUtf8(bytes)).toBe(new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
      expect(firstInvalidUtf8(bytes)).toBe(-1);
    }),
    { numRuns: 500, seed: 3 },
  );
});

test('says of any bytes whether they are UTF-8', () => {
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 12 }), (bytes) => {
      let valid = true;
      try {
        strict.decode(bytes);
      } catch {
        valid = false;
      }
      expect(firstInvalidUtf8(bytes) === -1).toBe(valid);
    }),
    { numRuns: 5000, seed: 5 },
  );
});

test('names the offset of the first bad byte, past long plain text too', () => {
  const bytes = new Uint8Array(1000).fill(0x61);
  bytes[777] = 0xff;
  expect(firstInvalidUtf8(bytes)).toBe(777);
  expect(decodeUtf8(bytes, 776, 779)).toBe('a\uFFFDa');
});

test('a text longer than one piece is whole', () => {
  const text = 'å'.repeat(10_001);
  expect(decodeUtf8(encodeUtf8(text))).toBe(text);
});
