import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atLeast } from '#numeric/chance/binomial.ts';
import { type DroneWish, dronesNeeded, droneWishRefusals } from './drones-needed.ts';

const wish = (more: Partial<DroneWish> = {}): DroneWish => ({
  queens: 12,
  dose: 8,
  reserve: 0.1,
  perDrone: 1,
  yielding: 0.5,
  sure: 0.9,
  ...more,
});

describe('drones needed', () => {
  it('rounds up to whole drones, but not for the last digit of a decimal', () => {
    expect(dronesNeeded(wish()).semenMicrolitres).toBeCloseTo(105.6, 12);
    expect(dronesNeeded(wish()).donors).toBe(106);
    expect(dronesNeeded(wish({ queens: 3, dose: 0.1, reserve: 0, perDrone: 0.1 })).donors).toBe(3);
  });

  it('is the least number that is sure enough, for any wish', () => {
    const share = fc.double({ min: 0.02, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        share,
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        (queens, yielding, sure) => {
          const { donors, matureDrones, probability } = dronesNeeded(wish({ queens, yielding, sure }));
          expect(probability).toBeGreaterThanOrEqual(sure - 1e-12);
          expect(matureDrones).toBeGreaterThanOrEqual(donors);
          if (matureDrones > donors) expect(atLeast(donors, matureDrones - 1, yielding)).toBeLessThan(sure);
        },
      ),
    );
  });

  it.each([
    [{ queens: 0 }, 'queens not-above-zero'],
    [{ queens: 2.5 }, 'queens not-whole-number'],
    [{ dose: -8 }, 'dose not-above-zero'],
    [{ reserve: -0.1 }, 'reserve not-zero-or-more'],
    [{ perDrone: 0 }, 'perDrone not-above-zero'],
    [{ yielding: 0 }, 'yielding not-a-share'],
    [{ yielding: 50 }, 'yielding not-a-share'],
    [{ sure: 90 }, 'sure not-a-share'],
    [{ sure: 1 }, 'sure never-sure'],
    [{ queens: 1e9 }, 'queens never-sure'],
  ])('%o is refused by name', (more, expected) => {
    expect(droneWishRefusals(wish(more)).map(({ path, code }) => `${path} ${code}`)).toEqual([expected]);
    expect(() => dronesNeeded(wish(more))).toThrow();
  });

  it('needs just the donors when every drone gives', () => {
    expect(dronesNeeded(wish({ yielding: 1, sure: 1 }))).toMatchObject({
      donors: 106,
      matureDrones: 106,
      probability: 1,
    });
  });
});
