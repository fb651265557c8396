import { describe, expect, test } from 'vitest';
import { manyTraits, oneTrait, simulatePedigree, simulateRecords } from '../../../bench/_stock.ts';
import { breedingValues } from './breeding-values.ts';

function compare(a: readonly number[], b: readonly number[]) {
  const mean = (x: readonly number[]) => x.reduce((sum, v) => sum + v, 0) / x.length;
  const [ma, mb] = [mean(a), mean(b)];
  const product = (x: readonly number[], mx: number, y: readonly number[], my: number) =>
    x.reduce((sum, v, i) => sum + (v - mx) * ((y[i] ?? 0) - my), 0);
  const correlation = product(a, ma, b, mb) / Math.sqrt(product(a, ma, a, ma) * product(b, mb, b, mb));
  return { correlation, rmse: Math.sqrt(mean(a.map((v, i) => (v - (b[i] ?? 0)) ** 2))) };
}

// Oracle: the exact reliabilities of the same stock (themselves checked against dense algebra).
describe('approximate reliabilities', () => {
  test.each(['shared', 'own', 'batches'] as const)('%s', { timeout: 60_000 }, (mating) => {
    const pedigree = simulatePedigree({ queens: 2500, mating });
    const records = simulateRecords(pedigree, oneTrait, { share: 0.8 });
    const exact = breedingValues(pedigree, records, oneTrait, { reliability: 'exact' });
    const near = breedingValues(pedigree, records, oneTrait, { reliability: 'approximate' });
    expect(near.reliability).toBe('approximate');
    expect(exact.reliabilityError).toBeNull();
    const { correlation, rmse } = compare(
      exact.queens.map((one) => one.reliability ?? Number.NaN),
      near.queens.map((one) => one.reliability ?? Number.NaN),
    );
    expect(correlation).toBeGreaterThan(0.985);
    expect(rmse).toBeLessThan(0.025);
    expect(near.reliabilityError?.queens).toBe(24);
    expect(near.reliabilityError?.rootMeanSquare).toBeLessThan(0.03);
    expect(Math.abs((near.reliabilityError?.rootMeanSquare ?? 9) - rmse)).toBeLessThan(0.015);
  });
  test('two traits', { timeout: 60_000 }, () => {
    const pedigree = simulatePedigree({ queens: 600, mating: 'own' });
    const records = simulateRecords(pedigree, manyTraits(2));
    const values = (kind: 'exact' | 'approximate') =>
      breedingValues(pedigree, records, manyTraits(2), { reliability: kind }).queens.map(
        (one) => one.reliability ?? Number.NaN,
      );
    const { correlation, rmse } = compare(values('exact'), values('approximate'));
    expect(correlation).toBeGreaterThan(0.97);
    expect(rmse).toBeLessThan(0.04);
  });
});
