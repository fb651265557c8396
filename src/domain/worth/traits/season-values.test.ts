import { expect, test } from 'vitest';
import {
  angular,
  asOthersScore,
  behaviour,
  honey,
  logCount,
  miteGrowth,
  removal,
  swarming,
  wintering,
} from './season-values.ts';

// Rules: Büchler and others 2013 (J Apic Res 52(1)); arithmetic by hand.
test('a season of scores and harvests', () => {
  expect(behaviour([4, 3, 3.5, 3.5])).toBe(3.5);
  expect(swarming([4, 3, 4])).toBe(3);
  expect(honey([12.5, 20.25])).toBe(32.75);
  expect(honey([0])).toBe(0);
  expect([behaviour([]), swarming([]), honey([])]).toEqual([null, null, null]);
});

test('winter, removed brood, mites', () => {
  expect(wintering(12, 9)).toBe(0.75);
  expect(wintering(0, 3)).toBeNull();
  expect(removal({ capped: 50, emptyBefore: 2, emptyAfter: 42 })).toBe(0.8);
  expect(removal({ capped: 50, emptyBefore: 5, emptyAfter: 3 })).toBe(0);
  expect(removal({ capped: 0, emptyBefore: 0, emptyAfter: 0 })).toBeNull();
  expect(miteGrowth(2, 8, 60)).toBeCloseTo(Math.log(4) / 60, 12);
  expect(miteGrowth(0, 8, 60)).toBeNull();
});

test('transforms', () => {
  expect(angular(0.5)).toBeCloseTo(Math.PI / 4, 12);
  expect([angular(-0.1), angular(1.2)]).toEqual([0, Math.PI / 2]);
  expect(logCount(0)).toBe(0);
  expect(asOthersScore(3.5, { mean: 3, sd: 0.25 }, { mean: 3.2, sd: 0.5 })).toBeCloseTo(4.2, 12);
  expect(asOthersScore(3, { mean: 3, sd: 0 }, { mean: 3.2, sd: 0.5 })).toBeNull();
});
