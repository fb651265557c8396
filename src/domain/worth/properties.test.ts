import { describe, expect, test } from 'vitest';
import { eigenOf } from '#numeric/dense/small-matrix.ts';
import { denseEvaluation } from '../../../tests/oracles/dense-evaluation.ts';
import { randomCovariance } from '../../../tests/oracles/random-records.ts';
import { randomStock } from '../../../tests/oracles/random-stock.ts';
import type { PedigreeFacts, SourceFact } from '../pedigree/facts.ts';
import { covarianceOfNodes } from '../pedigree/kinship.ts';
import { layPedigreeOf } from '../pedigree/pedigree.ts';
import { combinationOf, criteria } from './criteria.ts';
import { type Evaluation, evaluate } from './evaluation.ts';
import { type EvaluationInput, prepareEvaluation } from './evaluation-input.ts';

/** Properties that hold whatever the stock: on small random stocks of every kind of mating (see the oracle), two traits, values missing. */
const seeds = [1, 2, 3, 4, 5, 6];
const rows = (a: Float64Array, size: number) =>
  Array.from({ length: size }, (_, i) => [...a.subarray(i * size, (i + 1) * size)]);

function inputOf(seed: number): EvaluationInput {
  const pedigree = randomStock(seed);
  const tested = pedigree.queens.filter(({ sisters = 1 }) => sisters === 1);
  return {
    pedigree,
    records: tested.map(({ id }, i) => ({
      queen: id,
      levels: [`yard ${i % 3}`],
      values: [20 + ((i * 7907) % 101) / 10, i % 4 === 0 ? null : 3 + ((i * 331) % 19) / 10],
      record: `r${i}`,
    })),
    model: {
      traits: ['honey', 'calmness'],
      fixed: [['yard']],
      G: rows(randomCovariance(4, seed), 4),
      R: rows(randomCovariance(2, seed + 50), 2),
    },
    weights: { honey: 1, calmness: -2 },
    reliability: 'exact',
  };
}

const worked = (input: EvaluationInput): Evaluation => {
  const answer = evaluate(input);
  if (!('queens' in answer)) throw new Error(JSON.stringify(answer.problems));
  return answer;
};

type Told = { value: number; error: number; reliability: number };
/** Everything told of every queen, by a name for her. */
const toldOf = (answer: Evaluation, nameOf: (id: string) => string = (id) => id) =>
  new Map(
    answer.queens.flatMap(({ id, worth, index }) =>
      criteria.flatMap((criterion) =>
        [...Object.entries(worth), ['index', index] as const].map(
          ([of, by]) => [`${nameOf(id)} ${of} ${criterion}`, by?.[criterion] as Told] as const,
        ),
      ),
    ),
  );

/** The same of everybody in both; relative to the size of the numbers, with the residual of the solves (1e-10) in mind. */
function expectSame(a: Map<string, Told>, b: Map<string, Told>, factor = { value: 1, error: 1 }): void {
  for (const [key, { value, error, reliability }] of a) {
    const other = b.get(key);
    expect(other?.value, key).toBeCloseTo(factor.value * value, 6);
    expect(other?.error, key).toBeCloseTo(factor.error * error, 6);
    expect(other?.reliability, key).toBeCloseTo(reliability, 6);
  }
}

describe.each(seeds)('stock %d', (seed) => {
  const input = inputOf(seed);
  const told = toldOf(worked(input));

  test('relationships are symmetric and never negative in any sum; own variances too, 0 only where a row is nothing but others', () => {
    const { pedigree } = layPedigreeOf(input.pedigree);
    if (pedigree === null) throw new Error('stock');
    const n = pedigree.recursion.size;
    const A = Float64Array.from({ length: n * n }, (_, k) => covarianceOfNodes(pedigree, Math.floor(k / n), k % n));
    for (let i = 0; i < n; i++)
      for (let j = 0; j < i; j++) expect(A[i * n + j]).toBeCloseTo(A[j * n + i] as number, 12);
    const { values } = eigenOf(A, n);
    const exhausted = pedigree.recursion.own.filter((own) => own === 0).length;
    expect(values[0] as number).toBeGreaterThan(-1e-10);
    // as many directions without variance as rows without own variance (a batch used whole is its own source): all others are above 0
    expect(values[exhausted] as number).toBeGreaterThan(1e-9);
    for (const node of pedigree.queenNode) expect(pedigree.recursion.own[node] as number).toBeGreaterThan(0);
    for (const own of pedigree.recursion.own) expect(own).toBeGreaterThanOrEqual(0);
  });

  test('sparse and absorbed against dense: every value and its error', () => {
    const prepared = prepareEvaluation(input);
    if ('problems' in prepared) throw new Error('stock');
    const { pedigree, records, model } = prepared;
    const dense = denseEvaluation(pedigree, records, model);
    for (let queen = 0; queen < pedigree.stock.columns.queens; queen++) {
      const nodes = [pedigree.queenNode[queen] as number, pedigree.carriedNode[queen] as number];
      const k = combinationOf('mother', [1, -2]);
      let [value, variance] = [0, 0];
      for (let i = 0; i < 8; i++) {
        const [node, e] = [nodes[Math.floor(i / 4)] as number, i % 4];
        value += (k[i] as number) * dense.effects(node, e);
        for (let j = 0; j < 8; j++)
          variance +=
            (k[i] as number) * (k[j] as number) * dense.error(node, e, nodes[Math.floor(j / 4)] as number, j % 4);
      }
      const found = told.get(`${pedigree.stock.names.queenId(queen)} index mother`);
      expect(found?.value).toBeCloseTo(value, 6);
      expect(found?.error).toBeCloseTo(Math.sqrt(Math.max(0, variance)), 5);
    }
  });

  test('an unrelated queen more changes nothing for the others: without a record, and with one alone in a yard of her own', () => {
    const queens = [...input.pedigree.queens, { id: 'stranger' }];
    const more = { ...input, pedigree: { ...input.pedigree, queens } };
    expectSame(told, toldOf(worked(more)));
    const record = { queen: 'stranger', levels: ['far away'], values: [99, 1], record: 'hers' };
    const answer = toldOf(worked({ ...more, records: [...more.records, record] }));
    expectSame(told, answer);
    // alone in her yard her record says nothing of her either
    expect(answer.get('stranger honey mother')?.value).toBeCloseTo(0, 8);
    expect(answer.get('stranger honey mother')?.reliability).toBeCloseTo(0, 8);
  });

  test('other names and another order of the rows change nothing', () => {
    const back = new Map<string, string>();
    const name = (prefix: string, i: number) => `${prefix}${(i * 7919) % 10_007}`;
    const queen = new Map(input.pedigree.queens.map(({ id }, i) => [id, name('n', i)]));
    const pool = new Map(input.pedigree.pools.map(({ id }, i) => [id, name('m', i)]));
    for (const [id, other] of queen) back.set(other, id);
    const called = <T>(of: Map<string, string>, id: T) => (typeof id === 'string' ? (of.get(id) ?? id) : id) as T;
    const source = (one: SourceFact): SourceFact =>
      'queen' in one
        ? { ...one, queen: called(queen, one.queen) }
        : 'pool' in one
          ? { ...one, pool: called(pool, one.pool) }
          : one;
    const pedigree: PedigreeFacts = {
      queens: input.pedigree.queens
        .map((one) => ({
          ...one,
          id: called(queen, one.id),
          ...('dam' in one ? { dam: called(queen, one.dam) } : {}),
          ...('pool' in one ? { pool: called(pool, one.pool) } : {}),
          ...('fromPool' in one ? { fromPool: called(pool, one.fromPool) } : {}),
        }))
        .reverse(),
      pools: input.pedigree.pools
        .map((one) => ({ ...one, id: called(pool, one.id), sources: one.sources.map(source) }))
        .reverse(),
    };
    const records = input.records.map((row) => ({ ...row, queen: called(queen, row.queen) })).reverse();
    expectSame(
      told,
      toldOf(worked({ ...input, pedigree, records }), (id) => back.get(id) ?? id),
    );
  });

  // Doubling G alone does not double û: what is drawn towards 0 less is not twice as far. Three statements are exactly true instead.
  const times = (matrix: readonly (readonly number[])[], by: number) => matrix.map((row) => row.map((v) => by * v));
  const { model } = input;
  test('twice G and twice R: the same values, errors √2 as large (worth rests on their ratio)', () => {
    const doubled = { ...input, model: { ...model, G: times(model.G, 2), R: times(model.R, 2) } };
    expectSame(told, toldOf(worked(doubled)), { value: 1, error: Math.SQRT2 });
  });
  test('records twice as large with four times G and R (another unit): twice the values and errors', () => {
    const records = input.records.map((row) => ({
      ...row,
      values: row.values.map((v) => (v === null ? null : 2 * v)),
    }));
    const scaled = { ...input, records, model: { ...model, G: times(model.G, 4), R: times(model.R, 4) } };
    expectSame(told, toldOf(worked(scaled)), { value: 2, error: 2 });
  });
  test('twice G beside a residual without end: twice the values, in the limit', () => {
    const faint = (by: number) =>
      toldOf(
        worked({ ...input, reliability: 'none', model: { ...model, G: times(model.G, by), R: times(model.R, 1e7) } }),
      );
    const [one, two] = [faint(1), faint(2)];
    for (const [key, { value }] of one)
      expect(Math.abs((two.get(key)?.value ?? 9) - 2 * value), key).toBeLessThan(1e-3 * Math.abs(value) + 1e-12);
  });
});
