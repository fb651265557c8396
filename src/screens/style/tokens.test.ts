/**
 * Contrast of every pair of tokens that is read, in all three themes, computed from tokens.css: text at least 7:1 (WCAG 2.2, 1.4.6
 * AAA), borders and drawn marks at least 3:1 (1.4.11). Relative luminance and ratio as WCAG 2.2 defines them.
 */
import { describe, expect, test } from 'vitest';
import { drawn, hexOf, ratio, read, themes } from '../../../tests/support/contrast.ts';

test('the measure itself: black on white is 21, and #767676 on white 4.54 (WCAG 2.2 understanding document)', () => {
  expect(ratio('#000000', '#ffffff')).toBeCloseTo(21, 5);
  expect(ratio('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});

describe.each(Object.entries(themes()))('%s', (_, theme) => {
  test.each(read)('%s on %s is read: at least 7:1', (text, ground) => {
    expect(ratio(hexOf(theme, text), hexOf(theme, ground))).toBeGreaterThanOrEqual(7);
  });
  test.each(drawn)('%s on %s is seen: at least 3:1', (mark, ground) => {
    expect(ratio(hexOf(theme, mark), hexOf(theme, ground))).toBeGreaterThanOrEqual(3);
  });
});
