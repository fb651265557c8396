import fc from 'fast-check';
import { expect, test } from 'vitest';
import { completeShares, readMating } from './mating-text.ts';

const none = { isCode: () => false, decimalComma: false };

test('parts, alternatives and what is filled in', () => {
  expect(readMating(' M : 0.6 ; N ', none)).toEqual({
    oneOf: false,
    parts: [
      { code: 'M', share: 0.6, filledIn: false },
      { code: 'N', share: 0.4, filledIn: true },
    ],
    scaledFrom: null,
  });
  expect(readMating('R7:0.7|R9:0.3', none)).toMatchObject({ oneOf: true });
  expect(readMating('M', none)).toMatchObject({ oneOf: false, parts: [{ code: 'M', share: 1, filledIn: false }] });
});

test('completed shares always add up to 1', () => {
  const share = fc.option(fc.double({ min: 0.001, max: 0.2, noNaN: true }));
  fc.assert(
    fc.property(fc.array(share, { minLength: 1, maxLength: 5 }), (written) => {
      const answer = completeShares(written);
      if (typeof answer === 'string') expect(written).not.toContain(null);
      else expect(answer.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    }),
    { seed: 4 },
  );
});

test('shares may miss 1 by a hundredth, not by more', () => {
  expect(completeShares([0.5, 0.51])).toMatchObject({ scaledFrom: 1.01 });
  expect(completeShares([0.5, 0.52])).toBe('shares-not-one');
  expect(completeShares([1, null])).toBe('nothing-left');
});
