/**
 * Letters at a distance: cap height at 22 minutes of arc from 35 cm to 1.5 m, millimetres of type (design table after
 * interface.md 2.0; the angle itself is the 20-22 minutes of arc preferred in display ergonomics, ISO 9241-303).
 */
import { expect, test } from 'vitest';
import { ARC, typeSize } from './legibility.ts';

const millimetre = { pixelsPerMillimetre: 1 };

test.each([
  [35, 3.2],
  [50, 4.6],
  [70, 6.4],
  [100, 9.1],
  [150, 13.7],
])('at %i cm board text is %f mm of type', (centimetres, type) => {
  expect(typeSize(ARC.text, { centimetres, ...millimetre })).toBeCloseTo(type, 1);
});

test('queen, dose and tube stand at 40 minutes, nothing on the board under 16', () => {
  const at = (minutes: number) => typeSize(minutes, { centimetres: 70, pixelsPerMillimetre: 96 / 25.4 });
  expect(at(ARC.key) / at(ARC.text)).toBeCloseTo(40 / 22, 3);
  expect(at(ARC.least)).toBeGreaterThan(17);
});
