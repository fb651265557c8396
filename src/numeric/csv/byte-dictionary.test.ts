import fc from 'fast-check';
import { expect, test } from 'vitest';
import { encodeUtf8 } from '#units/utf8.ts';
import { addBuffer, intern, internText, lookUp, lookUpBytes, makeDictionary, textOf } from './byte-dictionary.ts';

test('numbers texts in the order they come, as a Map does', () => {
  fc.assert(
    fc.property(
      fc.array(fc.string({ unit: fc.constantFrom('a', 'b', 'é', '1'), minLength: 1, maxLength: 12 })),
      (words) => {
        const bytes = encodeUtf8(words.join(','));
        const dictionary = makeDictionary(1);
        const buffer = addBuffer(dictionary, bytes);
        const expected = new Map<string, number>();
        let at = 0;
        for (const word of words) {
          const length = encodeUtf8(word).length;
          if (!expected.has(word)) expected.set(word, expected.size);
          expect(intern(dictionary, buffer, at, at + length)).toBe(expected.get(word));
          at += length + 1;
        }
        for (const [word, id] of expected) {
          expect(textOf(dictionary, id)).toBe(word);
          expect(lookUp(dictionary, word)).toBe(id);
        }
        expect(lookUp(dictionary, 'zz')).toBe(-1);
      },
    ),
    { numRuns: 300, seed: 2 },
  );
});

test('white space around a text does not count, and nothing is -1', () => {
  const dictionary = makeDictionary();
  const buffer = addBuffer(dictionary, encodeUtf8(' A , A,,'));
  expect(intern(dictionary, buffer, 0, 3)).toBe(0);
  expect(intern(dictionary, buffer, 4, 6)).toBe(0);
  expect(intern(dictionary, buffer, 7, 7)).toBe(-1);
});

test('a text that stands in no file gets a number too', () => {
  const dictionary = makeDictionary();
  expect(internText(dictionary, 'x')).toBe(0);
  expect(internText(dictionary, 'x')).toBe(0);
  expect(internText(dictionary, '')).toBe(-1);
  expect(lookUp(dictionary, 'x')).toBe(0);
});

test('codes are found in other bytes too', () => {
  const dictionary = makeDictionary();
  const buffer = addBuffer(dictionary, encodeUtf8('short,a code longer than eight bytes'));
  intern(dictionary, buffer, 0, 5);
  intern(dictionary, buffer, 6, 36);
  const other = encodeUtf8(' a code longer than eight bytes ;short;a code longer than eight bytez');
  expect(lookUpBytes(dictionary, other, 0, 32)).toBe(1);
  expect(lookUpBytes(dictionary, other, 33, 38)).toBe(0);
  expect(lookUpBytes(dictionary, other, 39, 69)).toBe(-1);
  expect(lookUpBytes(dictionary, other, 0, 1)).toBe(-1);
});
