import { describe, expect, it } from 'vitest';
import { donorDots } from './donor-dots.ts';
import { dronesNeeded } from './drones-needed.ts';

describe('the twenty dots of how many drones give', () => {
  it('show nine chances in ten as 18 dots of 20 (231 drones for 106 donors, trade-facts 10.3 worked example)', () => {
    const { donors, matureDrones } = dronesNeeded({
      queens: 12,
      dose: 8,
      reserve: 0.1,
      perDrone: 1,
      yielding: 0.5,
      sure: 0.9,
    });
    expect([donors, matureDrones]).toEqual([106, 231]);
    expect(donorDots(matureDrones, 0.5).filter((each) => each >= donors)).toHaveLength(18);
  });

  it('rise, and lie around the mean', () => {
    const dots = donorDots(100, 0.6);
    expect([...dots].sort((a, b) => a - b)).toEqual(dots);
    expect(dots.reduce((sum, dot) => sum + dot, 0) / 20).toBeCloseTo(60, 0);
  });

  it('are all none without drones, and all of them when every drone gives', () => {
    expect(new Set(donorDots(0, 0.5))).toEqual(new Set([0]));
    expect(new Set(donorDots(12, 1))).toEqual(new Set([12]));
  });
});
