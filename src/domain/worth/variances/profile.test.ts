import { expect, test } from 'vitest';
import { manyTraits, oneTrait, simulatePedigree, simulateRecords } from '../../../../bench/_stock.ts';
import { profileOfCorrelation } from './profile.ts';
import { estimateVariances } from './variances.ts';

const pedigree = simulatePedigree({ queens: 400, mating: 'own', cohorts: 5 });
const records = simulateRecords(pedigree, oneTrait);

test('the profile touches the maximum where the estimate lies and is lower elsewhere', { timeout: 60_000 }, () => {
  const found = estimateVariances(pedigree, records, oneTrait);
  const correlation = found.heritability.traits.yield?.correlation ?? Number.NaN;
  const top = found.logLikelihood ?? Number.NaN;
  const points = profileOfCorrelation(pedigree, records, oneTrait, {
    trait: 'yield',
    at: [correlation, -0.9, -0.5, 0, 0.5],
  });
  expect(points[0]?.logLikelihood).toBeGreaterThan(top - 2e-3);
  for (const point of points) expect(point.logLikelihood).toBeLessThan(top + 1e-3);
  // further from the estimate on one side, less likely
  const [, , , none = { logLikelihood: 0 }, half = { logLikelihood: 0 }] = points;
  if (correlation < 0) expect(half.logLikelihood).toBeLessThan(none.logLikelihood);
});

test('a trait of several is taken on its own; one that is not there is our mistake', { timeout: 60_000 }, () => {
  const both = manyTraits(2);
  const two = simulateRecords(pedigree, both);
  const [point] = profileOfCorrelation(pedigree, two, both, { trait: 'trait 1', at: [-0.3] });
  expect(Number.isFinite(point?.logLikelihood)).toBe(true);
  expect(() => profileOfCorrelation(pedigree, two, both, { trait: 'wax' })).toThrow('no trait wax');
});
