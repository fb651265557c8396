import { expect, test } from 'vitest';
import { day } from '#units/calendar-day.ts';
import { type StageFacts, stageOf } from './stage.ts';

const on = day('2027-06-12');
const nothing: StageFacts = { emerged: null, mated: false, hasLaid: false, isDroneLayer: false };
const check = (facts: Partial<StageFacts>, expected: string) =>
  expect(stageOf({ ...nothing, ...facts }, on)).toBe(expected);

test('a queen without a word on her mating is a virgin only as long as she can be one', () => {
  check({ emerged: day('2027-06-04') }, 'virgin');
  check({ emerged: day('2027-05-03') }, 'virgin');
  check({ emerged: day('2027-05-02') }, 'not-known');
  check({}, 'not-known');
});

test('brood decides before matings, a drone layer before all', () => {
  check({ mated: true }, 'inseminated');
  check({ mated: true, hasLaid: true }, 'laying');
  check({ hasLaid: true }, 'laying');
  check({ mated: true, hasLaid: true, isDroneLayer: true }, 'drone-layer');
});
