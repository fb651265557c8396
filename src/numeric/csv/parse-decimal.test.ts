import { expect, test } from 'vitest';
import { parseDecimal } from './parse-decimal.ts';

test('point and exponent always, comma only where asked', () => {
  expect(parseDecimal(' 12.5 ', false)).toBe(12.5);
  expect(parseDecimal('-1e-3', false)).toBe(-0.001);
  expect(parseDecimal('.5', false)).toBe(0.5);
  expect(parseDecimal('2,5', true)).toBe(2.5);
  expect(parseDecimal('2,5', false)).toBeNull();
});

test('anything else is not a number', () => {
  for (const text of ['', '-', '.', '1 000', '1.2.3', '0x10', 'NaN', 'Infinity', '12kg', '1,2,3'])
    expect(parseDecimal(text, true)).toBeNull();
});
