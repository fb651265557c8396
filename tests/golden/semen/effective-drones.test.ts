/** Effective drones: n/(1+CV²) as the large-sample form of (Σv)²/Σv² (Kish 1965, Survey Sampling, §8.2; from memory). */
import { expect, test } from 'vitest';
import { effectiveDrones, guessedEffectiveDrones } from '#domain/semen/effective-drones.ts';

test('equal drones count fully, one that gave all counts alone, scale does not matter', () => {
  expect(effectiveDrones([1, 1, 1, 1])).toBe(4);
  expect(effectiveDrones([5, 0, 0])).toBe(1);
  expect(effectiveDrones([0.3, 0.1])).toBeCloseTo(effectiveDrones([3, 1]), 12);
  expect(effectiveDrones([])).toBe(0);
});

test('(Σv)²/Σv² = n/(1+CV²) exactly, CV with the population standard deviation', () => {
  const volumes = [0.4, 0.9, 1.1, 1.6, 0.7, 1.3];
  const mean = volumes.reduce((sum, volume) => sum + volume, 0) / volumes.length;
  const variance = volumes.reduce((sum, volume) => sum + (volume - mean) ** 2, 0) / volumes.length;
  expect(effectiveDrones(volumes)).toBeCloseTo(volumes.length / (1 + variance / mean ** 2), 10);
});

test('Straub et al. 2016 (Proc. R. Soc. B 283:20160506): mean 2.1196 M, SD 1.3342, n 145 gives a CV of about 0.6', () => {
  expect(Math.round((1.3342 / 2.1196) * 10) / 10).toBe(0.6);
  expect(guessedEffectiveDrones(13.6)).toBeCloseTo(10, 12);
  expect(guessedEffectiveDrones(1)).toBe(1);
  expect(guessedEffectiveDrones(0)).toBe(0);
});
