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
  test('the strongest steps of the ramp are seen as well as text, the weakest are told apart by area and number', () => {
    for (const step of ['ramp-5', 'ramp-6'])
      for (const ground of ['paper', 'sheet'])
        expect(ratio(hexOf(theme, step), hexOf(theme, ground)), `${step} on ${ground}`).toBeGreaterThanOrEqual(7);
    expect(ratio(hexOf(theme, 'ramp-4'), hexOf(theme, 'sheet'))).toBeGreaterThanOrEqual(3);
    const steps = [1, 2, 3, 4, 5, 6].map((n) => ratio(hexOf(theme, `ramp-${n}`), hexOf(theme, 'sheet')));
    expect(steps).toEqual([...steps].sort((a, b) => a - b));
  });
});

test.each(['paper', 'lamp'] as const)('%s: ink is read on the light steps of the ramp', (name) => {
  const theme = themes()[name];
  for (const step of ['ramp-1', 'ramp-2'])
    expect(ratio(hexOf(theme, 'ink'), hexOf(theme, step)), step).toBeGreaterThanOrEqual(7);
});
