import { expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { problemsOfReading, valueOfReading } from './reading-value.ts';

const on = day('2027-06-20');
const codes = (entered: Parameters<typeof valueOfReading>[0]) => problemsOfReading(entered, '').map(({ code }) => code);

test('pin test: 100 × (emptied − empty before) / capped; 42 − 2 of 50 is 0.8 (formula of Büchler and others 2013 § 3.3.4, arithmetic by hand)', () => {
  const read = valueOfReading({ trait: 'hygiene', counted: 42, among: 50, empty_before: 2, day: on });
  expect(read?.value).toBe(0.8);
  // Wilson 1927 for 40 of 50: centre (40 + 1.9207)/(50 + 3.8415) = 0.77860, reach 0.10921; worked out by hand
  expect(read?.range?.low).toBeCloseTo(0.6696, 3);
  expect(read?.range?.high).toBeCloseTo(0.8876, 3);
});

test('a test begun has no value: it is not zero', () => {
  expect(valueOfReading({ trait: 'hygiene', among: 50, empty_before: 2, day: on })).toBeNull();
  expect(valueOfReading({ trait: 'hygiene', counted: 2, among: 50, empty_before: 2, day: on })?.value).toBe(0);
});

test('mites: 9 on 300 bees are 3 to 100 (Dietemann and others 2013 § 4.2.3); exact range 1.38 to 5.62', () => {
  const read = valueOfReading({ trait: 'mites', counted: 9, among: 300, day: on });
  expect(read?.value).toBe(3);
  // Clopper-Pearson 9 of 300: 0.01381-0.05618 (scipy.stats.binomtest(9, 300).proportion_ci('exact'))
  expect(read?.range?.low).toBeCloseTo(1.381, 2);
  expect(read?.range?.high).toBeCloseTo(5.618, 2);
});

test('natural fall: 63 mites in 21 days are 3 a day', () => {
  const read = valueOfReading({ trait: 'mite-fall', counted: 63, span_from: day('2027-05-30'), day: on });
  expect(read?.value).toBe(3);
  expect(codes({ trait: 'mite-fall', counted: 63, day: on })).toEqual(['score-days-needed']);
});

test('solidness: 7 empty of 100 looked at are 0.93', () => {
  expect(valueOfReading({ trait: 'solidness', counted: 7, among: 100, day: on })?.value).toBe(0.93);
});

test('what cannot be is named', () => {
  expect(codes({ trait: 'gentleness', value: 3.25, day: on })).toEqual(['score-off-scale']);
  expect(codes({ trait: 'gentleness', value: 0, day: on })).toEqual(['score-off-scale']);
  expect(codes({ trait: 'honey', value: -1, day: on })).toEqual(['score-below-zero']);
  expect(codes({ trait: 'hygiene', value: 80, day: on })).toEqual(['score-not-a-part']);
  expect(codes({ trait: 'hygiene', counted: 60, among: 50, empty_before: 2, day: on })).toEqual([
    'score-more-than-cells',
  ]);
  expect(codes({ trait: 'mites', counted: 3, day: on })).toEqual(['score-bees-needed']);
  expect(codes({ trait: 'gentleness', value: 3.5, day: on })).toEqual([]);
});
