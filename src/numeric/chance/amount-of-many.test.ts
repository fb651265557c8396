import { describe, expect, it } from 'vitest';
import { amountAtLeast, amountQuantiles, reachByCount } from './amount-of-many.ts';
import { throughChances } from './count-mixture.ts';
import { known } from './count-steps.ts';
import { factorProduct } from './factor-product.ts';
import { gammaQuantile, incompleteGammaAbove } from './incomplete-gamma.ts';

const point = (value: number) => factorProduct([{ kind: 'point', value }]);

describe('what many bring together', () => {
  it('is a gamma with so many times the shape when the count is known', () => {
    const each = { mean: point(1.09), variation: 0.6 };
    const reach = reachByCount(105.6, 200, each);
    expect(amountAtLeast(reach, known(106))).toBeCloseTo(incompleteGammaAbove(106 / 0.36, 105.6 / 0.36 / 1.09), 12);
  });

  it('is a plain count when all bring the same: 8 µl of at least 8 donors', () => {
    const each = { mean: point(1), variation: 0 };
    const counts = throughChances(19, point(0.595));
    expect(amountAtLeast(reachByCount(8, 19, each), counts)).toBeCloseTo(0.9611, 4);
  });

  it('rises with the count and falls with what is wanted', () => {
    const each = { mean: factorProduct([{ kind: 'size', mean: 1, sd: 0.2 }]), variation: 0.5 };
    const less = reachByCount(20, 60, each);
    const more = reachByCount(25, 60, each);
    less.forEach((chance, k) => {
      expect(chance).toBeGreaterThanOrEqual((less[k - 1] ?? 0) - 1e-12);
      expect(chance).toBeGreaterThanOrEqual((more[k] ?? 0) - 1e-12);
    });
    expect(less[0]).toBe(0);
    expect(reachByCount(0, 3, each)[0]).toBeCloseTo(1, 12);
  });

  it('has quantiles to half a per cent', () => {
    const each = { mean: point(2), variation: 0.5 };
    const found = amountQuantiles([0.9, 0.5, 0.1], known(30), each);
    [0.1, 0.5, 0.9].forEach((below, i) => {
      const exact = gammaQuantile(below, 30 / 0.25) * 2 * 0.25;
      expect(Math.abs((found[i] ?? 0) / exact - 1)).toBeLessThan(0.005);
    });
  });
});
