import { expect, test } from 'vitest';
import type { Day } from '#units/calendar-day.ts';
import { warningsOfReading } from './reading-warnings.ts';

const day = '2028-06-22' as Day;
const codes = (entered: Omit<Parameters<typeof warningsOfReading>[0], 'day'>) =>
  warningsOfReading({ day, ...entered }, 'readings.0.').map(({ code, path, weight }) => `${weight} ${path} ${code}`);

// Sample sizes: Dietemann and others 2013 § 4.2.3 (about 300 bees) and § 4.1.1 (three weeks); Büchler and others 2013 § 3.3.5 (50 cells, about 24 h).
test('a wash of fewer than 150 bees is warned about, one of 300 is not', () => {
  expect(codes({ trait: 'mites', counted: 3, among: 120 })).toEqual(['warn readings.0.among score-few-bees']);
  expect(codes({ trait: 'mites', counted: 3, among: 300 })).toEqual([]);
  expect(codes({ trait: 'mites', value: 3 })).toEqual([]);
});

test('a brood test of few cells, with many empty ones, read too soon', () => {
  expect(codes({ trait: 'hygiene', method: 'pin', among: 30, empty_before: 5, counted: 20, span_from: day })).toEqual([
    'warn readings.0.among score-few-cells',
    'warn readings.0.empty_before score-many-empty',
    'warn readings.0.counted score-test-days',
  ]);
  const begun = '2028-06-21' as Day;
  expect(codes({ trait: 'hygiene', method: 'pin', among: 50, empty_before: 2, counted: 30, span_from: begun })).toEqual(
    [],
  );
  expect(codes({ trait: 'hygiene-frost', method: 'freeze', among: 100, counted: 90, span_from: begun })).toEqual([
    'warn readings.0.counted score-test-days',
  ]);
  expect(codes({ trait: 'solidness', among: 20, counted: 2 })).toEqual([]);
});

test('a board under the hive for a week says little', () => {
  expect(codes({ trait: 'mite-fall', counted: 14, span_from: '2028-06-15' as Day })).toEqual([
    'warn readings.0.span_from score-short-fall',
  ]);
  expect(codes({ trait: 'mite-fall', counted: 14, span_from: '2028-06-01' as Day })).toEqual([]);
});
