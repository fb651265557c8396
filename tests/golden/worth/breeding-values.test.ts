import { describe, expect, test } from 'vitest';
import { breedingValues } from '#domain/worth/breeding-values.ts';
import { evaluation } from './small-evaluation.ts';

const ONE = '{"traits":["honey"],"fixed":["yard:year"],"G":[[6,-2],[-2,4]],"R":[[10]]}';
const TWO =
  '{"traits":["honey","calm"],"fixed":["yard:year"],"G":[[6,-2,0.5,0.1],[-2,4,0.2,0.3],[0.5,0.2,0.30,-0.05],[0.1,0.3,-0.05,0.20]],"R":[[10,0.4],[0.4,0.5]]}';

const answer = (model: string) => {
  const { pedigree, records, model: read, groups } = evaluation(model);
  return breedingValues(pedigree, records, read, groups && { groups });
};

/** Half of the last digit printed. */
const near = (value: number, digits = 5) => expect.closeTo(value, digits);

// Source: README.md beside this file; tolerance half a unit of the last digit given there.
describe('one trait', () => {
  const { fixed, queens, pools, reliability } = answer(ONE);
  test('yard-years', () => {
    expect(fixed).toEqual([
      { factor: 'yard:year', level: '1:2025', trait: 'honey', value: near(40.9456) },
      { factor: 'yard:year', level: '2:2025', trait: 'honey', value: near(26.373404) },
    ]);
  });
  test.each([
    ['A', 0.29749, 0.89248, 5.95748, 3.61733, 1.13045, 1.2402, 0.095],
    ['B', -0.03346, -1.68075, 5.95366, 3.46986, -0.83853, -1.92982, 0.0716],
    ['Q1', 0.5473, 1.38145, 5.89737, 3.641, 1.14623, 1.85282, 0.0598],
    ['Q2', 0.44842, 1.0848, 5.82283, 3.74895, 0.94847, 1.50674, 0.0631],
    ['Q3', 0.03969, -0.51334, 5.69008, 3.63078, -0.20235, -0.44179, 0.0615],
    ['Q4', -0.35378, -0.90357, 5.7463, 3.65862, -0.69848, -1.18516, 0.0643],
  ])('%s', (queen, worker, queenEffect, pevWorker, pevQueen, mother, colony, sure) => {
    expect(queens.find((one) => one.queen === queen)).toEqual({
      queen,
      trait: 'honey',
      workerEffect: near(worker),
      queenEffect: near(queenEffect),
      pevWorker: near(pevWorker),
      pevQueen: near(pevQueen),
      asMotherOfQueens: near(mother),
      asDroneMother: near(worker + queenEffect, 4),
      asColony: near(colony),
      reliability: near(sure, 4),
    });
    expect(reliability).toBe('exact');
  });
  test('a drone mother without record, and the pools', () => {
    expect(queens.find((one) => one.queen === 'C')).toMatchObject({
      workerEffect: near(0.37193),
      queenEffect: near(0.57629),
      pevWorker: near(5.7473),
      pevQueen: near(3.80274),
    });
    const effects = Object.fromEntries(pools.map((one) => [one.pool, [one.workerEffect, one.queenEffect]]));
    expect(effects).toEqual({
      'semen of A': [near(0.19898), near(0.33648)],
      'semen of B': [near(-0.23234), near(0.25092)],
      'batch P': [near(0.19773), near(-0.01587)],
      'semen of Q3': [near(0.05171), near(-0.01724)],
      'semen of Q4': [near(-0.10471), near(0.0349)],
      'semen of C': [0, 0],
    });
  });
});

test('two traits, one value missing', () => {
  const { fixed, queens, pools } = answer(TWO);
  const values = fixed.map((one) => [one.level, one.trait, one.value]);
  expect(values).toEqual([
    ['1:2025', 'honey', near(40.941546)],
    ['1:2025', 'calm', near(3.110966)],
    ['2:2025', 'honey', near(26.346215)],
    ['2:2025', 'calm', near(2.85248)],
  ]);
  const effects = (queen: string) =>
    queens.filter((one) => one.queen === queen).flatMap((one) => [one.workerEffect, one.queenEffect]);
  expect(effects('A')).toEqual([near(0.24688), near(0.86117), near(0.12176), near(0.07667)]);
  expect(effects('B')).toEqual([near(0.0125), near(-1.65604), near(-0.17693), near(-0.14715)]);
  expect(effects('Q1')).toEqual([near(0.53694), near(1.37389), near(0.21292), near(0.15912)]);
  expect(effects('Q2')).toEqual([near(0.43122), near(1.07404), near(0.16688), near(0.12072)]);
  const batch = pools.filter((one) => one.pool === 'batch P').flatMap((one) => [one.workerEffect, one.queenEffect]);
  expect(batch).toEqual([near(0.21465), near(-0.00495), near(0.02827), near(0.0143)]);
});

test('two genetic groups, random with the variance of a queen', () => {
  const { fixed, groups, queens, pools, random } = answer(
    ONE.replace('"G"', '"groups":{"founders":"line","open":"area"},"G"'),
  );
  expect(fixed.map(({ value }) => value)).toEqual([near(41.457471), near(26.492325)]);
  expect(groups.map((one) => [one.group, one.workerEffect, one.queenEffect])).toEqual([
    ['1', near(0.253865), near(-0.725829)],
    ['2', near(-0.253865), near(0.725829)],
  ]);
  const worker = Object.fromEntries(queens.map((one) => [one.queen, one.workerEffect]));
  expect(worker).toMatchObject({ A: near(0.5531), C: near(0.12301), Q1: near(0.53593) });
  const queen = Object.fromEntries(queens.map((one) => [one.queen, one.queenEffect]));
  expect(queen).toMatchObject({ A: near(0.17187), B: near(-2.34935), C: near(1.24141), Q1: near(1.29941) });
  expect(pools.find((one) => one.pool === 'batch P')?.workerEffect).toEqual(near(0.12791));
  expect(random).toEqual([]);
});

test('twice the genetic and residual variances change nothing but the error variances', () => {
  const one = answer(ONE);
  const two = answer('{"traits":["honey"],"fixed":["yard:year"],"G":[[12,-4],[-4,8]],"R":[[20]]}');
  for (const [k, queen] of one.queens.entries()) {
    expect(two.queens[k]?.workerEffect).toBeCloseTo(queen.workerEffect, 8);
    expect(two.queens[k]?.pevQueen).toBeCloseTo(2 * (queen.pevQueen ?? 0), 8);
    expect(two.queens[k]?.reliability).toBeCloseTo(queen.reliability ?? 9, 8);
  }
});
