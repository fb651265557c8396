import { expect, it } from 'vitest';
import { yearMark } from '#domain/marking/year-colour.ts';

/** The international order of queen-marking colours by the last digit of the year, as every handbook prints it. */
it.each([
  [2024, 'green'],
  [2025, 'blue'],
  [2026, 'white'],
  [2027, 'yellow'],
  [2028, 'red'],
  [2029, 'green'],
  [2030, 'blue'],
  [2031, 'white'],
])('queens of %d are marked %s', (year, colour) => {
  expect(yearMark(year).colour).toBe(colour);
});
