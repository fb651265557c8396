/**
 * Records of the small stock ({@link ../pedigree/worked-example.ts}) that the examples of this library speak of: honey in kg of six colonies in two yards of
 * one year, worker effect with variance 6, queen effect 4, covariance −2 (kg²), residual 10. What they give is kept in tests/golden/worth, worked out with
 * dense algebra by other software.
 */
import { workedStock } from '../pedigree/worked-example.ts';
import { inverseOf } from './breeding-values.ts';
import { descentOf } from './descent.ts';
import { type Equations, makeEquations } from './equations.ts';
import type { InverseOver } from './error-variances.ts';
import { type EvaluationInput, type Prepared, prepareEvaluation } from './evaluation-input.ts';
import type { StockFacts } from './stock-told.ts';

const honey: readonly [queen: string, yard: string, kg: number][] = [
  ['A', '1', 42],
  ['B', '1', 35],
  ['Q1', '1', 47],
  ['Q2', '2', 30],
  ['Q3', '2', 28],
  ['Q4', '2', 21],
];

/** The input of the worked evaluation. */
export const workedInput: EvaluationInput = {
  pedigree: workedStock,
  records: honey.map(([queen, yard, kg]) => ({
    queen,
    levels: [`${yard}:2025`],
    values: [kg],
    record: `${queen} 2025`,
  })),
  years: { A: 2023, B: 2023, C: 2022, Q1: 2024, Q2: 2024, Q3: 2024, Q4: 2024 },
  model: {
    traits: ['honey'],
    fixed: [['yard', 'year']],
    G: [
      [6, -2],
      [-2, 4],
    ],
    R: [[10]],
  },
  weights: { honey: 1 },
};

/**
 * The worked evaluation laid out, ready to be solved.
 * @example workedPrepared().records.count // 6
 */
export function workedPrepared(): Prepared {
  const prepared = prepareEvaluation(workedInput);
  if ('problems' in prepared) throw new Error('the worked evaluation has problems');
  return prepared;
}

/**
 * The mixed model equations of the worked evaluation.
 * @example workedEquations().system.observations.count // 6
 */
export function workedEquations(): Equations {
  const { pedigree, records, model } = workedPrepared();
  return makeEquations(descentOf(pedigree), records, model);
}

/**
 * The exact inverse of those equations over supports.
 * @example const first = []; eachPairError(workedEquations(), workedInverse(), (_, error) => first.push(error[0])); first[0] // 5.95748
 */
export const workedInverse = (): InverseOver => inverseOf(workedEquations(), 'exact');

/** Mites per 100 bees, counted in two of the colonies. */
const mites: Readonly<Record<string, number>> = { A: 1, B: 3 };

/** The same stock and honey as a breeder has them before choosing, with who scored: Ada colony A, Ben the others. */
export const workedFacts: StockFacts = {
  pedigree: workedStock,
  years: workedInput.years ?? {},
  records: honey.map(([queen, yard, kg]) => ({
    id: `${queen} 2025`,
    queen,
    year: 2025,
    yard: { id: yard, name: yard },
    traits: { honey: kg, ...(mites[queen] === undefined ? {} : { mites: mites[queen] }) },
    tester: queen === 'A' ? 'Ada' : 'Ben',
  })),
  lines: {},
  traits: ['honey', 'mites'],
};
