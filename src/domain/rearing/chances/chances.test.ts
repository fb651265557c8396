import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { known } from '#numeric/chance/count-steps.ts';
import { meanOf } from '#numeric/chance/factor.ts';
import { addDays, day } from '#units/calendar-day.ts';
import { dronesNeeded } from '../drones-needed.ts';
import { figure, ranged } from '../figure.ts';
import type { BiologyProfile } from '../profile.ts';
import { standardText } from '../standard-text.ts';
import { daysSpread } from './days-spread.ts';
import { type DroneLot, ripeShare } from './drone-lot.ts';
import { dronesToRaise } from './drones-to-raise.ts';
import { chanceOfQueens, larvaeNeeded, lossesStairs, queenShares, queensThrough, shareOfAge } from './queen-losses.ts';
import { readinessOf } from './readiness.ts';
import { chanceOfSemen, dosesOn, meanSemen, semenDots, semenSupply } from './semen-supply.ts';

const on = day('2027-06-12');
const comb = (more: Partial<DroneLot> = {}): DroneLot =>
  ({ counted: 'cells', count: 4300, laidFrom: addDays(on, -45), laidTo: addDays(on, -38), ...more }) as DroneLot;
const supply = (lots: DroneLot[]) => semenSupply({ lots, on, profile: standardText });
const timing = { daysBefore: 20, ages: standardText.queens.hard };
const shares = queenShares(standardText, timing);

/** A profile in which nothing is in doubt and every yielding drone brings 1 µl. */
const certain: BiologyProfile = {
  ...standardText,
  survivals: { ...standardText.survivals, yielding: figure(0.5, 'common practice', 'test') },
  yields: {
    ...standardText.yields,
    perDrone: figure(1, 'common practice', 'test'),
    perDroneVariation: figure(0, 'common practice', 'test'),
    leftBehind: figure(0, 'common practice', 'test'),
  },
};

describe('a development time', () => {
  it('keeps its middle figure for 7 of 10, and lies about it for the rest', () => {
    expect(daysSpread(standardText.timings.graftToEmergence)).toEqual([
      { days: 11, weight: expect.closeTo(0.15, 12) },
      { days: 12, weight: 0.7 },
      { days: 13, weight: expect.closeTo(0.15, 12) },
    ]);
    expect(daysSpread(figure(9, 'common practice', 'test'))).toEqual([{ days: 9, weight: 1 }]);
    expect(
      daysSpread(ranged({ value: 2, low: 2, high: 4 }, 'common practice', 'test')).map(({ days }) => days),
    ).toEqual([2, 3, 4]);
  });

  it('leaves few queens of age where the window is narrow', () => {
    expect(shareOfAge(timing, standardText)).toBeCloseTo(1, 12);
    expect(shareOfAge({ daysBefore: 20, ages: { from: 8, to: 8 } }, standardText)).toBeCloseTo(0.7, 12);
    expect(shareOfAge({ daysBefore: 16, ages: timing.ages }, standardText)).toBeCloseTo(0.15, 12);
    expect(shareOfAge({ daysBefore: 12, ages: timing.ages }, standardText)).toBe(0);
  });
});

describe('larvae to graft', () => {
  it('is the least number that is sure enough, and grows with queens and certainty', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.double({ min: 0.5, max: 0.97, noNaN: true }), (queens, sure) => {
        const larvae = larvaeNeeded(queens, shares, sure);
        expect(chanceOfQueens(queens, larvae, shares)).toBeGreaterThanOrEqual(sure - 1e-9);
        expect(chanceOfQueens(queens, larvae - 1, shares)).toBeLessThan(sure);
      }),
      { numRuns: 30, seed: 4 },
    );
    expect(larvaeNeeded(12, shares, 0.9)).toBe(26);
    // Never mean times mean: 12 / (0.8 × 0.9 × 0.88) is 19, enough in little more than half of all seasons.
    expect(chanceOfQueens(12, 19, shares)).toBeLessThan(0.65);
  });

  it('is impossible where no queen would be of age', () => {
    expect(larvaeNeeded(1, queenShares(standardText, { ...timing, daysBefore: 12 }))).toBe(Number.POSITIVE_INFINITY);
  });

  it('goes on from what was counted: 14 accepted promise more than 20 grafted', () => {
    const accepted = queensThrough({ left: 14, after: 'accepted' }, shares);
    expect(accepted).toHaveLength(15);
    const stairs = lossesStairs({ left: 14, after: 'accepted' }, shares);
    expect(stairs.map(({ step }) => step)).toEqual(['accepted', 'emerged', 'of-age', 'ready', 'laying']);
    expect(stairs[1]?.mean).toBeCloseTo(14 * 0.9, 9);
    for (const { low, mean, high } of stairs) expect(low <= mean && mean <= high).toBe(true);
  });
});

describe('drones of a lot', () => {
  it('are ripe between their ages and thinned by the days they lived', () => {
    const fresh: DroneLot = {
      counted: 'emerged',
      count: 100,
      emergedFrom: addDays(on, -14),
      emergedTo: addDays(on, -14),
    };
    expect(meanOf(ripeShare(fresh, on, { from: 12, to: 28 }, standardText))).toBeCloseTo(0.45, 3);
    expect(meanOf(ripeShare(fresh, on, { from: 15, to: 28 }, standardText))).toBe(0);
    const seen: DroneLot = {
      counted: 'alive',
      count: 100,
      on,
      emergedFrom: addDays(on, -20),
      emergedTo: addDays(on, -14),
    };
    expect(meanOf(ripeShare(seen, on, { from: 12, to: 28 }, standardText))).toBeCloseTo(1, 12);
  });

  it('give nothing on a day for which they are too young', () => {
    const late = comb({ laidFrom: addDays(on, -30), laidTo: addDays(on, -28) } as Partial<DroneLot>);
    expect(chanceOfSemen(1, supply([late]))).toBe(0);
    expect(dosesOn(supply([late]), 8)).toMatchObject({ sure: 0, middle: 0 });
    expect(meanSemen(supply([]))).toBe(0);
  });

  it('promise more the further they have been counted', () => {
    const laid = comb({ counted: 'laid', count: 2150 });
    expect(chanceOfSemen(96, supply([laid]))).toBeGreaterThan(chanceOfSemen(96, supply([comb()])));
  });

  it('of two combs add up', () => {
    expect(meanSemen(supply([comb(), comb()]))).toBeCloseTo(2 * meanSemen(supply([comb()])), 6);
    expect(chanceOfSemen(200, supply([comb(), comb()]))).toBeGreaterThan(chanceOfSemen(200, supply([comb()])));
  });
});

describe('doses of a mother on a day', () => {
  it('are whole, and the sure ones the fewest', () => {
    const { sure, middle, high, microlitres } = dosesOn(supply([comb()]), 8);
    expect(sure).toBe(Math.floor(microlitres.sure / 8));
    expect(sure).toBeLessThan(middle);
    expect(middle).toBeLessThan(high);
    expect(chanceOfSemen(microlitres.sure, supply([comb()]))).toBeCloseTo(0.9, 2);
  });

  it('are drawn as twenty dots, each worth one season in twenty', () => {
    const dots = semenDots(supply([comb()]));
    expect(dots).toHaveLength(20);
    expect([...dots].sort((a, b) => a - b)).toEqual(dots);
    expect(chanceOfSemen(dots[10] ?? 0, supply([comb()]))).toBeCloseTo(1 - 10.5 / 20, 2);
  });
});

describe('drones to raise', () => {
  const ripe = ripeShare(comb(), on, standardText.drones.hard, standardText);

  it('are 231 in the hand for 105.6 µl, half of them yielding 1 µl, nothing in doubt: as drones-needed has it', () => {
    const found = dronesToRaise({ microlitres: 105.6, ripe, profile: certain });
    const wish = { queens: 12, dose: 8, reserve: 0.1, perDrone: 1, yielding: 0.5, sure: 0.9 };
    expect(found.handled).toBe(231);
    expect(found.handled).toBe(dronesNeeded(wish).matureDrones);
  });

  it('are more the earlier they are counted, and the surer it must be', () => {
    const found = dronesToRaise({ microlitres: 96, ripe, profile: standardText });
    const numbers = [found.handled, found.mature, found.emerged, found.laidCells].map(Number);
    expect([...numbers].sort((a, b) => a - b)).toEqual(numbers);
    expect(found.combs).toBe(2);
    const surer = dronesToRaise({ microlitres: 96, ripe, profile: standardText, sure: 0.95 });
    expect(surer.handled).toBeGreaterThan(found.handled ?? 0);
  });

  it('are none that would do where none can be ripe', () => {
    const found = dronesToRaise({ microlitres: 96, ripe: { kind: 'point', value: 0 }, profile: standardText });
    expect(found).toMatchObject({ emerged: null, laidCells: null, combs: null });
    expect(found.handled).toBeGreaterThan(0);
  });
});

describe('readiness of a day', () => {
  it('is the chance that everything suffices, and names what will give first', () => {
    const queens = [{ mother: 'A', queens: 12, grafts: [queensThrough({ left: 26, after: 'grafted' }, shares)] }];
    const drones = [{ mother: 'M', microlitres: 96, supply: supply([comb()]) }];
    const { chance, links, weakest } = readinessOf(queens, drones);
    expect(chance).toBeCloseTo((links[0]?.chance ?? 0) * (links[1]?.chance ?? 0), 12);
    expect(weakest).toMatchObject({ side: 'drones', mother: 'M' });
    expect(weakest?.chance).toBe(Math.min(...links.map((link) => link.chance)));
  });

  it('counts queens of several grafts together, and is certain where nothing is wanted', () => {
    const { chance } = readinessOf([{ mother: 'A', queens: 5, grafts: [known(3), known(2)] }], []);
    expect(chance).toBe(1);
    expect(readinessOf([], [])).toEqual({ chance: 1, links: [], weakest: null });
  });
});
