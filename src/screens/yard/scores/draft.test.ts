import { expect, test } from 'vitest';
import { readingsOf } from './draft.ts';

test('only what was read, or said not to be judged, is kept', () => {
  expect(
    readingsOf({
      gentleness: { value: 3.5 },
      calmness: { value: null },
      swarming: { not_judged: 'weather', value: 4 },
      mites: { method: 'wash' },
      hygiene: { method: 'pin', among: 50, empty_before: null },
    }),
  ).toEqual([
    { trait: 'gentleness', value: 3.5 },
    { trait: 'swarming', not_judged: 'weather' },
    { trait: 'hygiene', method: 'pin', among: 50 },
  ]);
});
