import { describe, expect, it } from 'vitest';
import { dronesNeeded } from '#domain/rearing/drones-needed.ts';
import { atLeast } from '#numeric/chance/binomial.ts';

/*
 * Binomial counts worked out beside the yield of Rhodes et al. 2011 (Apidologie 42:29: 59.5 % of drones gave semen), each found again with
 * scipy.stats.binom.sf 1.17.1 (tests/golden/chance/make_chance.py, leastTrials).
 */
describe('drones to handle for 95 % assurance of so many donors', () => {
  const one = { queens: 1, reserve: 0, perDrone: 1, sure: 0.95 };
  it.each([
    [8, 0.595, 19],
    [10, 0.595, 23],
    [12, 0.595, 27],
    [8, 0.8, 13],
    [10, 0.8, 16],
    [12, 0.8, 19],
    [8, 0.4, 30],
    [10, 0.4, 36],
    [12, 0.4, 42],
  ])('%d donors at %d: %d', (dose, yielding, handled) => {
    expect(dronesNeeded({ ...one, dose, yielding }).matureDrones).toBe(handled);
  });

  it('19 handled give at least 8 donors with 0.9611', () => {
    expect(atLeast(8, 19, 0.595)).toBeCloseTo(0.9611, 4);
  });
});

describe('mature drones for twelve queens of 8 µl and a tenth more (105.6 µl), 90 % sure', () => {
  it.each([
    [0.5, 231],
    [0.6, 191],
    [0.7, 162],
  ])('%d of them yielding: %d', (yielding, drones) => {
    const found = dronesNeeded({ queens: 12, dose: 8, reserve: 0.1, perDrone: 1, yielding, sure: 0.9 });
    expect(found.semenMicrolitres).toBeCloseTo(105.6, 10);
    expect(found.matureDrones).toBe(drones);
  });
});

it('30 queens of 10 µl and a tenth more are 330 µl: about 509 handled drones at 1.09 µl and 59.5 % on average', () => {
  const half = dronesNeeded({ queens: 30, dose: 10, reserve: 0.1, perDrone: 1.09, yielding: 0.595, sure: 0.5 });
  expect(half.semenMicrolitres).toBeCloseTo(330, 10);
  expect(330 / (1.09 * 0.595)).toBeCloseTo(509, 0);
  expect(Math.abs(half.matureDrones - 509)).toBeLessThanOrEqual(2);
});

it('10-15 drones of about 1 µl give a dose of 5-8 µl (common practice, no source): 6-9 µl at 59.5 % yielding', () => {
  const [few = 0, many = 0] = [10, 15].map((drones) => drones * 1 * 0.595);
  expect(few).toBeGreaterThanOrEqual(5);
  expect(Math.floor(many)).toBeLessThanOrEqual(8);
  for (const [drones, dose] of [
    [10, 5],
    [15, 8],
  ] as const)
    expect(
      dronesNeeded({ queens: 1, dose, reserve: 0, perDrone: 1, yielding: 0.595, sure: 0.5 }).matureDrones,
    ).toBeLessThanOrEqual(drones);
});
