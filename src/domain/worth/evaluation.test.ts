import { describe, expect, test } from 'vitest';
import { smallInput } from '../../../tests/support/small-evaluation-input.ts';
import { type Evaluation, evaluate, validateByYear } from './evaluation.ts';
import { inputOfPlain, plainInput, sayEvaluationProblem } from './evaluation-input.ts';
import { answerFingerprint, fingerprintOf, parametersOf } from './fingerprint.ts';
import { modelFrom, publishedSets } from './published.ts';
import { restsOn } from './rests-on.ts';
import { whatChanged } from './what-changed.ts';

const evaluated = (input = smallInput()): Evaluation => {
  const answer = evaluate(input);
  if (answer.problems.length > 0) throw new Error(JSON.stringify(answer.problems));
  return answer as Evaluation;
};
const honey = (answer: Evaluation, id: string) => answer.values.queens[answer.queenIds.indexOf(id)];
const near = (value: number, digits = 5) => expect.closeTo(value, digits);

describe('one call', () => {
  // Source of the numbers: tests/golden/worth/README.md (dense generalised least squares).
  test('values, index with its reliability, trend, connectedness, warnings', () => {
    const seen: [number, number][] = [];
    const answer = evaluate({ ...smallInput(), weights: { honey: 2 } }, (done, whole) => seen.push([done, whole]));
    if (!('values' in answer)) throw new Error('refused');
    expect(honey(answer, 'Q1')).toMatchObject({ asMotherOfQueens: near(1.14623), reliability: near(0.0598, 4) });
    expect(answer.index?.[3]).toEqual({ queen: 'Q1', value: near(2.29246), reliability: near(0.0598, 4) });
    expect(answer.trend.honey?.map((one) => [one.year, one.queens])).toEqual([
      [2021, 3],
      [2022, 2],
      [2023, 2],
    ]);
    expect(answer.connectedness.sets).toHaveLength(1);
    expect(answer.warnings.map((one) => one.code)).toEqual(['few-records']);
    expect(answer.assumptions).toEqual([]);
    expect(seen.at(-1)).toEqual([100, 100]);
    expect(seen.every(([done], k) => k === 0 || done >= (seen[k - 1]?.[0] ?? 0))).toBe(true);
  });

  test('counted from a reference cohort, its mean is 0 and differences stay', () => {
    const [free, counted] = [evaluated(), evaluated({ ...smallInput(), reference: ['A', 'B'] })];
    const worth = (answer: Evaluation, id: string) => honey(answer, id)?.asMotherOfQueens ?? Number.NaN;
    expect(worth(counted, 'A') + worth(counted, 'B')).toBeCloseTo(0, 12);
    expect(worth(counted, 'Q1') - worth(counted, 'Q4')).toBeCloseTo(worth(free, 'Q1') - worth(free, 'Q4'), 12);
  });

  test('the same input gives the same bits, also after it was stored as JSON, and its fingerprint does not see order', () => {
    const input = { ...smallInput(), reference: ['A'], weights: { honey: 1 } };
    const stored = inputOfPlain(JSON.parse(JSON.stringify(plainInput(input))));
    expect(answerFingerprint(evaluated(stored))).toBe(answerFingerprint(evaluated(input)));
    const turned = {
      ...input,
      records: [...input.records].reverse(),
      pedigree: { queens: [...input.pedigree.queens].reverse(), pools: [...input.pedigree.pools].reverse() },
    };
    expect(fingerprintOf(turned)).toBe(fingerprintOf(input));
    expect(fingerprintOf(input)).toMatch(/^[0-9a-f]{64}$/);
    const other = { ...input, records: input.records.map((one, k) => (k === 0 ? { ...one, values: [42.5] } : one)) };
    expect(fingerprintOf(other)).not.toBe(fingerprintOf(input));
    expect(parametersOf(input)).toEqual({
      reference: ['A'],
      weights: { honey: 1 },
      model: { traits: ['honey'], fixed: [['yard', 'year']], G: [6, -2, -2, 4], R: [10] },
    });
  });

  test('leaving a year out that has too few, and an input that cannot be', () => {
    expect(validateByYear(smallInput(), 2023)).toBeNull();
    expect(validateByYear({ ...smallInput(), records: [] }, 2023)).toBeNull();
  });
});

describe('one number opened', () => {
  test.each([
    ['Q1', 'mother', 1.14623, 0.0598],
    ['Q1', 'colony', 1.85282, null],
    ['C', 'drones', 0.37193 + 0.57629, null],
  ] as const)('%s as %s: the parts add up to it', (queen, criterion, value, sure) => {
    const found = restsOn(smallInput(), { queen, trait: 'honey', criterion });
    expect(found.value).toEqual(near(value, 4));
    expect(found.parts).toHaveLength(6);
    expect(found.parts.reduce((sum, one) => sum + one.part, 0)).toBeCloseTo(found.value, 12);
    for (const one of found.parts) expect(one.part).toBeCloseTo(one.weight * one.deviation, 12);
    if (sure !== null) expect(found.reliability).toEqual(near(sure, 4));
    expect(found.parts.map((one) => one.record).sort()).toEqual(
      ['A', 'B', 'Q1', 'Q2', 'Q3', 'Q4'].map((id) => `card ${id}`),
    );
  });

  test('her own record weighs what moving it by one moves her value', () => {
    const input = smallInput();
    const asked = { queen: 'Q2', trait: 'honey', criterion: 'mother' } as const;
    const found = restsOn(input, asked);
    const moved = restsOn(
      { ...input, records: input.records.map((one) => (one.queen === 'Q2' ? { ...one, values: [31] } : one)) },
      asked,
    );
    const own = found.parts.find((one) => one.queen === 'Q2');
    expect(moved.value - found.value).toBeCloseTo(own?.weight ?? Number.NaN, 9);
  });
});

describe('what changed', () => {
  const before = smallInput();
  const after = {
    ...smallInput(),
    reference: ['A', 'B', 'C'],
    model: { ...before.model, R: Float64Array.of(14) },
    records: before.records.map((one) => (one.queen === 'Q2' ? { ...one, values: [33] } : one)),
    pedigree: { ...before.pedigree, queens: [...before.pedigree.queens, { id: 'N', dam: 'Q1' }] },
  };
  const found = whatChanged(before, after, 'honey');

  test('reasons add up; a new queen has no past', () => {
    for (const one of found) {
      if (one.from === null || one.to === null) continue;
      expect(one.from + one.byModel + one.byDescent + one.byRecords + one.byBase).toBeCloseTo(one.to, 9);
    }
    expect(found.find((one) => one.queen === 'N')).toMatchObject({ from: null, byRecords: 0 });
    expect(found.find((one) => one.queen === 'Q2')?.byRecords).toBeGreaterThan(0);
    expect(found.every((one) => !one.together)).toBe(true);
  });

  test('where traits or effects differ, model and records change together', () => {
    const other = {
      ...after,
      model: { ...after.model, fixed: [['year']] },
      records: after.records.map((one) => ({ ...one, levels: ['2025'] })),
    };
    for (const one of whatChanged(before, other, 'honey')) {
      expect(one.together).toBe(true);
      if (one.from !== null && one.to !== null)
        expect(one.from + one.byModel + one.byDescent + one.byRecords + one.byBase).toBeCloseTo(one.to, 9);
    }
  });

  test('nothing changed, nothing to say', () => {
    const same = whatChanged(before, smallInput(), 'honey');
    expect(same.every((one) => one.byModel === 0 && one.byDescent === 0 && one.byRecords === 0)).toBe(true);
  });
});

describe('what cannot be evaluated is said with what to do', () => {
  const input = smallInput();
  const first = input.records[0] ?? { queen: 'A', levels: ['x'], values: [1] };
  const with_ = (change: Partial<typeof input>) => ({ ...input, ...change });
  test.each([
    [{ records: [] }, 'nothing was recorded yet'],
    [{ records: [{ ...first, queen: 'Z' }] }, '"Z", who is not in the pedigree'],
    [{ records: [{ ...first, levels: [''] }] }, 'says nothing about yard:year'],
    [{ records: [{ ...first, levels: [] }] }, 'not one value a trait'],
    [{ records: [{ ...first, values: [null] }] }, 'nobody recorded honey'],
    [{ records: [{ ...first, values: [Number.POSITIVE_INFINITY] }] }, 'which is no number'],
    [{ model: { ...input.model, G: Float64Array.of(6, -9, -9, 4) } }, 'G is not positive definite'],
    [{ model: { ...input.model, R: Float64Array.of(0) } }, 'R is not positive definite'],
    [{ model: { ...input.model, G: Float64Array.of(6) } }, 'expected 2 × 2'],
    [{ model: { ...input.model, traits: [] } }, 'the model has no trait'],
    [
      {
        pedigree: {
          queens: [
            { id: 'A', dam: 'B' },
            { id: 'B', dam: 'A' },
          ],
          pools: [],
        },
      },
      'descends from herself: A from B from A',
    ],
    [
      {
        pedigree: {
          queens: [
            { id: 'A', dam: 'B', born: '2020-01-01' },
            { id: 'B', born: '2021-01-01' },
          ],
          pools: [],
        },
      },
      'before her dam B (2021-01-01)',
    ],
  ] as unknown as [Partial<typeof input>, string][])('%j', (change, said) => {
    const { problems } = evaluate(with_(change));
    expect(problems.map(sayEvaluationProblem).join('\n')).toContain(said);
  });

  test('a colony alone and yards without a family in common are evaluated and warned of', () => {
    const alone = evaluated(with_({ records: input.records.map((one, k) => ({ ...one, levels: [`${k}`] })) }));
    expect(alone.warnings.find((one) => one.code === 'alone-in-yard-year')?.text).toContain('test at least 8 together');
    const founders = { queens: ['A', 'B', 'C', 'D'].map((id) => ({ id })), pools: [] };
    const records = ['A', 'B', 'C', 'D'].map((queen, k) => ({ queen, levels: [k < 2 ? 'x' : 'y'], values: [k] }));
    const apart = evaluated(with_({ pedigree: founders, records }));
    expect(apart.connectedness.sets).toEqual([['x'], ['y']]);
    expect(apart.warnings.find((one) => one.code === 'yards-not-connected')?.text).toContain('do not compare');
  });
});

test('published sets make a model whose variances add up to the spread of the records', () => {
  const set = publishedSets[0];
  const honeyFigures = set?.traits.find((one) => one.trait === 'honey');
  if (honeyFigures === undefined) throw new Error('no honey');
  const model = modelFrom({ traits: [{ ...honeyFigures, deviation: 8 }], fixed: [['yard', 'year']] });
  if (model === null) throw new Error('no model');
  const [w = 0, both = 0, , q = 0] = model.G;
  expect(0.5 * w + both + q + (model.R[0] ?? 0)).toBeCloseTo(64, 10);
  expect(0.5 * w).toBeCloseTo(0.25 * 64, 10);
  expect(both / Math.sqrt(w * q)).toBeCloseTo(-0.4, 10);
  expect(evaluated({ ...smallInput(), model }).values.queens).toHaveLength(7);
  expect(modelFrom({ traits: [{ ...honeyFigures, worker: 0.9, queen: 0.5, deviation: 8 }], fixed: [] })).toBeNull();
  for (const { traits } of publishedSets)
    for (const one of traits) expect(modelFrom({ traits: [{ ...one, deviation: 1 }], fixed: [] })).not.toBeNull();
});
