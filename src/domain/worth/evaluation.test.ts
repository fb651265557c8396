import { describe, expect, test } from 'vitest';
import { inverseOf } from '#numeric/dense/small-matrix.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { covarianceOfNodes } from '../pedigree/kinship.ts';
import { breedingValues } from './breeding-values.ts';
import { combinationOf, criteria } from './criteria.ts';
import { type Evaluation, evaluate } from './evaluation.ts';
import { type EvaluationInput, fingerprintOf, fingerprintOfAnswer, prepareEvaluation } from './evaluation-input.ts';
import { restsOn } from './rests-on.ts';
import { validateByYear } from './validate-by-year.ts';
import { whatChanged } from './what-changed.ts';

/** A made-up stock of three generations in two traits, drawn with a fixed seed. */
function madeUp(queens = 40, seed = 5): EvaluationInput {
  const random = randomStream(seed);
  const founders = 6;
  const facts = Array.from({ length: queens }, (_, i) => ({
    id: `q${String(i).padStart(3, '0')}`,
    dam: i < founders ? null : `q${String(random.below(Math.min(i, 20))).padStart(3, '0')}`,
    pool: i % 3 === 0 ? null : `p${i % 5}`,
  }));
  const pools = Array.from({ length: 5 }, (_, p) => ({
    id: `p${p}`,
    sources: [{ queen: `q00${p}`, share: 1, drones: 8 }],
  }));
  const records = facts.slice(2).map(({ id }, i) => ({
    queen: id,
    levels: [`yard ${i % 3}:2026`],
    values: [20 + 6 * random.normal(), i % 4 === 0 ? null : 3 + 0.4 * random.normal()],
    record: `r${i}`,
  }));
  return {
    pedigree: { queens: facts, pools },
    records,
    years: Object.fromEntries(facts.map(({ id }, i) => [id, 2020 + Math.floor((6 * i) / queens)])),
    model: {
      traits: ['honey', 'calmness'],
      fixed: [['yard', 'year']],
      G: [
        [18, -5, 0.2, 0],
        [-5, 8, 0, 0.1],
        [0.2, 0, 0.1, -0.02],
        [0, 0.1, -0.02, 0.05],
      ],
      R: [
        [22, 0.3],
        [0.3, 0.09],
      ],
    },
    weights: { honey: 1, calmness: 10 },
  };
}

const input = madeUp();
const worked = (given: EvaluationInput): Evaluation => {
  const answer = evaluate(given);
  if (!('queens' in answer)) throw new Error(JSON.stringify(answer.problems));
  return answer;
};
const answer = worked(input);

describe('worth against dense algebra: û = GZ’Py, error variance = G − GZ’PZG', () => {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) throw new Error('stock');
  const { pedigree, records, model } = prepared;
  // one row a (record, trait) that was recorded; effects of a queen and her pool: 8 of them
  const q = 4;
  const rows = Array.from(records.queen, (queen, r) =>
    [0, 1].flatMap((s) => (Number.isNaN(records.values[r * 2 + s] as number) ? [] : [{ queen, r, s }])),
  ).flat();
  const nodes = (queen: number) => [pedigree.queenNode[queen] as number, pedigree.carriedNode[queen] as number];
  /** Covariance of two combinations of effects of two queens and their pools. */
  const between = (a: number, k: Float64Array, b: number, l: Float64Array) => {
    let sum = 0;
    for (const [x, na] of nodes(a).entries())
      for (const [y, nb] of nodes(b).entries()) {
        const related = covarianceOfNodes(pedigree, na, nb);
        for (let i = 0; i < q; i++)
          for (let j = 0; j < q; j++)
            sum += related * (k[x * q + i] as number) * (l[y * q + j] as number) * (model.G[i * q + j] as number);
      }
    return sum;
  };
  const unit = (s: number) => (s === 0 ? [1, 0] : [0, 1]);
  const design = (s: number) => combinationOf('colony', unit(s));
  const n = rows.length;
  const V = new Float64Array(n * n);
  for (const [i, a] of rows.entries())
    for (const [j, b] of rows.entries())
      V[i * n + j] =
        between(a.queen, design(a.s), b.queen, design(b.s)) + (a.r === b.r ? (model.R[a.s * 2 + b.s] as number) : 0);
  const W = inverseOf(V, n) as Float64Array;
  const levels = records.factors[0]?.names.length ?? 0;
  const m = levels * 2;
  const X = (i: number, c: number) => {
    const row = rows[i] as (typeof rows)[0];
    return c === (records.factors[0]?.level[row.r] as number) * 2 + row.s ? 1 : 0;
  };
  const XWX = new Float64Array(m * m);
  for (let a = 0; a < m; a++)
    for (let b = 0; b < m; b++)
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          XWX[a * m + b] = (XWX[a * m + b] as number) + X(i, a) * (W[i * n + j] as number) * X(j, b);
  const inner = inverseOf(XWX, m) as Float64Array;
  const times = (A: Float64Array, size: number, x: readonly number[]) =>
    Array.from({ length: size }, (_, i) => x.reduce((sum, v, j) => sum + (A[i * size + j] as number) * v, 0));
  const P = (x: readonly number[]) => {
    const wx = times(W, n, x);
    const back = times(
      inner,
      m,
      Array.from({ length: m }, (_, a) => wx.reduce((sum, v, i) => sum + X(i, a) * v, 0)),
    );
    const xb = rows.map((_, i) => back.reduce((sum, v, a) => sum + X(i, a) * v, 0));
    return times(
      W,
      n,
      x.map((v, i) => v - (xb[i] as number)),
    );
  };
  const y = rows.map(({ r, s }) => records.values[r * 2 + s] as number);
  const Py = P(y);
  test.each([0, 3, 17, 39])('queen %i, every criterion, both traits and the index', (queen) => {
    const told = answer.queens[queen];
    for (const criterion of criteria)
      for (const [name, weights] of [
        ['honey', [1, 0]],
        ['calmness', [0, 1]],
        [null, [1, 10]],
      ] as const) {
        const k = combinationOf(criterion, weights);
        const covariances = rows.map(({ queen: other, s }) => between(queen, k, other, design(s)));
        const value = covariances.reduce((sum, c, i) => sum + c * (Py[i] as number), 0);
        const genetic = between(queen, k, queen, k);
        const explained = P(covariances).reduce((sum, c, i) => sum + c * (covariances[i] as number), 0);
        const found = name === null ? told?.index?.[criterion] : told?.worth[name]?.[criterion];
        // residual of the solve is 1e-10
        expect(found?.value).toBeCloseTo(value, 6);
        expect(found?.error).toBeCloseTo(Math.sqrt(genetic - explained), 6);
        expect(found?.reliability).toBeCloseTo(explained / genetic, 6);
      }
  });
});

test('the same as the breeding values of the command line, levels too', () => {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) throw new Error('stock');
  const plain = breedingValues(prepared.pedigree, prepared.records, prepared.model);
  const honey = plain.queens.filter(({ trait }) => trait === 'honey');
  expect(answer.queens.map(({ worth }) => worth.honey?.mother.value)).toEqual(
    honey.map(({ asMotherOfQueens }) => expect.closeTo(asMotherOfQueens, 9)),
  );
  expect(answer.queens.map(({ worth }) => worth.honey?.mother.reliability)).toEqual(
    honey.map(({ reliability }) => expect.closeTo(reliability ?? 9, 9)),
  );
  expect(answer.levels).toMatchObject(plain.fixed.map(({ level, trait, value }) => ({ level, trait, value })));
});

describe('provenance', () => {
  const shuffled = {
    ...input,
    records: [...input.records].reverse(),
    pedigree: { queens: [...input.pedigree.queens].reverse(), pools: [...input.pedigree.pools].reverse() },
  };
  test('queens and records in another order: the same fingerprint, and the same answer bit for bit', () => {
    expect(fingerprintOf(shuffled)).toBe(fingerprintOf(input));
    expect(fingerprintOfAnswer(worked(shuffled))).toBe(fingerprintOfAnswer(answer));
  });
  test('kept as JSON and read back it gives the same bits', () => {
    const back = JSON.parse(JSON.stringify(input)) as EvaluationInput;
    expect(fingerprintOf(back)).toBe(fingerprintOf(input));
    expect(fingerprintOfAnswer(worked(back))).toBe(fingerprintOfAnswer(answer));
  });
  test('one record, one weight or one dam changed: another fingerprint', () => {
    const [first, ...rest] = input.records;
    const moved = { ...input, records: [{ ...first, values: [21, 3] } as typeof first & object, ...rest] };
    expect(fingerprintOf(moved as EvaluationInput)).not.toBe(fingerprintOf(input));
    expect(fingerprintOf({ ...input, weights: { honey: 2 } })).not.toBe(fingerprintOf(input));
  });
});

describe('approximate reliabilities say how far off they are', () => {
  const many = madeUp(400, 11);
  const exact = worked({ ...many, reliability: 'exact' });
  const told: number[] = [];
  const near = evaluate({ ...many, reliability: 'approximate' }, (done, whole) => told.push(done / whole));
  if (!('queens' in near)) throw new Error('nothing');
  test('values stay the same; the error printed is that against exact ones over the whole stock', () => {
    expect(exact.reliabilityError).toBeNull();
    expect(near.reliability).toBe('approximate');
    for (const criterion of criteria) {
      const differences = near.queens.flatMap((queen, i) =>
        [queen.index, ...Object.values(queen.worth)].map((worth, w) => {
          const { worth: all, index } = exact.queens[i] ?? { worth: {}, index: null };
          const known = [index, ...Object.values(all)][w]?.[criterion];
          expect(worth?.[criterion].value).toBe(known?.value);
          return (worth?.[criterion].reliability ?? 9) - (known?.reliability ?? 0);
        }),
      );
      const whole = Math.sqrt(differences.reduce((sum, d) => sum + d * d, 0) / differences.length);
      const said = near.reliabilityError?.[criterion];
      expect(said?.queens).toBe(24);
      expect(said?.largest).toBeLessThanOrEqual(Math.max(...differences.map(Math.abs)) + 1e-4);
      // 24 of 1200 drawn: a root mean square from so few is right within a factor of about 1.5
      expect(said?.rootMeanSquare).toBeGreaterThan(whole / 2);
      expect(said?.rootMeanSquare).toBeLessThan(whole * 2);
    }
  });
  test('progress only rises, and ends at the whole', () => {
    expect(told.length).toBeGreaterThan(30);
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told.at(-1)).toBe(1);
  });
  test('a rerun gives the same bits', () =>
    expect(fingerprintOfAnswer(worked({ ...many, reliability: 'approximate' }))).toBe(fingerprintOfAnswer(near)));
});

test('counted from a reference cohort its mean is 0, and the spread of nobody changes', () => {
  const reference = input.pedigree.queens.slice(0, 10).map(({ id }) => id);
  const counted = worked({ ...input, reference });
  const mean = reference.reduce(
    (sum, id) => sum + (counted.queens.find((queen) => queen.id === id)?.worth.honey?.colony.value ?? 9),
    0,
  );
  expect(mean).toBeCloseTo(0, 8);
  expect(counted.queens[20]?.worth.honey?.colony.error).toBe(answer.queens[20]?.worth.honey?.colony.error);
});

describe('one worth opened', () => {
  const reference = input.pedigree.queens.slice(0, 10).map(({ id }) => id);
  const asked = { queen: 'q017', trait: 'honey', criterion: 'mother' } as const;
  const open = (given: EvaluationInput) => {
    const found = restsOn(given, asked);
    if (found === null || 'problems' in found) throw new Error('nothing');
    return found;
  };
  test('the parts add up to the worth, by hand from the founders and from a cohort', () => {
    expect(open(input).value).toBeCloseTo(answer.queens[17]?.worth.honey?.mother.value ?? 9, 6);
    const counted = worked({ ...input, reference });
    expect(open({ ...input, reference }).value).toBeCloseTo(counted.queens[17]?.worth.honey?.mother.value ?? 9, 6);
  });
  test('the index, and yard-years taken as random', () => {
    const random = {
      effect: ['yard', 'year'],
      covariance: [
        [9, 0],
        [0, 0.02],
      ],
    };
    const model = { ...input.model, fixed: [], random };
    for (const given of [input, { ...input, model }]) {
      const index = restsOn(given, { ...asked, trait: null });
      if (index === null || 'problems' in index) throw new Error('nothing');
      expect(index.value).toBeCloseTo(worked(given).queens[17]?.index?.mother.value ?? 9, 6);
    }
  });
  test('a weight is what one unit more in that record moves', () => {
    const part = open(input).parts.find(({ queen, trait }) => queen === 'q017' && trait === 'honey');
    const records = input.records.map((row) =>
      row.record === part?.record ? { ...row, values: [(row.values[0] ?? 0) + 1, row.values[1] ?? null] } : row,
    );
    const moved = worked({ ...input, records }).queens[17]?.worth.honey?.mother.value ?? 9;
    expect(moved - (answer.queens[17]?.worth.honey?.mother.value ?? 9)).toBeCloseTo(part?.weight ?? 9, 6);
  });
  test('nobody by that name', () => expect(restsOn(input, { ...asked, queen: 'nobody' })).toBeNull());
});

describe('what changed since the last run, and why', () => {
  const asked = { trait: 'honey', criterion: 'mother' } as const;
  const changes = (before: EvaluationInput, after: EvaluationInput) => {
    const found = whatChanged(before, after, asked);
    if ('problems' in found) throw new Error('nothing');
    return found;
  };
  test('nothing changed: nothing moved', () => {
    for (const { from, to, byModel, byDescent, byRecords, byBase } of changes(input, input)) {
      expect(to).toBe(from);
      expect([byModel, byDescent, byRecords, byBase]).toEqual([0, 0, 0, 0]);
    }
  });
  test('each cause alone moves by its own name, and all parts add up', () => {
    const G = input.model.G.map((row) => row.map((v) => v / 2));
    const halved = { ...input, model: { ...input.model, G } };
    const fewer = { ...input, records: input.records.slice(3) };
    const based = { ...input, reference: ['q000', 'q001'] };
    const queens = input.pedigree.queens.map((queen) => (queen.id === 'q039' ? { ...queen, dam: 'q001' } : queen));
    const descended = { ...input, pedigree: { ...input.pedigree, queens } };
    for (const [after, by] of [
      [halved, 'byModel'],
      [fewer, 'byRecords'],
      [based, 'byBase'],
      [descended, 'byDescent'],
    ] as const)
      for (const change of changes(input, after)) {
        expect((change.from ?? 0) + change[by]).toBeCloseTo(change.to ?? 9, 10);
        for (const other of ['byModel', 'byRecords', 'byBase', 'byDescent'] as const)
          if (other !== by) expect(change[other]).toBe(0);
      }
    const all = { ...halved, records: fewer.records, reference: based.reference, pedigree: descended.pedigree };
    for (const { from, to, byModel, byDescent, byRecords, byBase } of changes(input, all))
      expect((from ?? 0) + byModel + byDescent + byRecords + byBase).toBeCloseTo(to ?? 9, 10);
  });
  test('a queen who was not there before has no from', () => {
    const without = {
      ...input,
      pedigree: { ...input.pedigree, queens: input.pedigree.queens.filter(({ id }) => id !== 'q039') },
      records: input.records.filter(({ queen }) => queen !== 'q039'),
    };
    expect(changes(without, input).find(({ queen }) => queen === 'q039')).toMatchObject({ from: null, byRecords: 0 });
    expect(changes(input, without).find(({ queen }) => queen === 'q039')).toMatchObject({ to: null });
  });
});

describe('what cannot be worked out is named', () => {
  const codes = (given: EvaluationInput) => {
    const found = evaluate(given);
    return found.problems.map(({ code }) => code);
  };
  test('no records, a trait nobody recorded, a queen nobody knows', () => {
    expect(codes({ ...input, records: [] })).toEqual(['worth-no-records']);
    const honeyOnly = input.records.map((row) => ({ ...row, values: [row.values[0] ?? null, null] }));
    expect(codes({ ...input, records: honeyOnly })).toEqual(['worth-trait-without-records']);
    const stranger = { queen: 'x', levels: ['a'], values: [1, 1], record: 'r' };
    expect(codes({ ...input, records: [...input.records, stranger] })).toEqual(['worth-unknown-queen']);
  });
  test('a record without a yard-year, of a whole group, or of no number', () => {
    const [first, ...rest] = input.records;
    const withFirst = (some: object) => codes({ ...input, records: [{ ...first, ...some } as never, ...rest] });
    expect(withFirst({ levels: [''] })).toEqual(['worth-level-missing']);
    expect(withFirst({ values: [Number.POSITIVE_INFINITY, 3] })).toEqual(['worth-not-a-number']);
    const queens = input.pedigree.queens.map((queen) => (queen.id === 'q039' ? { ...queen, sisters: 3 } : queen));
    expect(codes({ ...input, pedigree: { ...input.pedigree, queens } })).toEqual(['worth-record-of-group']);
  });
  test('variances that cannot be', () => {
    const G = input.model.G.map((row, i) => row.map((v, j) => (i + j === 1 ? -20 : v)));
    expect(codes({ ...input, model: { ...input.model, G } })).toEqual(['worth-not-definite']);
  });
  test('a loop in descent, and a dam younger than her daughter', () => {
    const loop = input.pedigree.queens.map((queen) => (queen.id === 'q000' ? { ...queen, dam: 'q039' } : queen));
    expect(codes({ ...input, pedigree: { ...input.pedigree, queens: loop } })).toContain('pedigree-loop');
  });
  test('one colony a yard-year, and yards with nothing in common: said, with the answer', () => {
    const alone = input.records.map((row, i) => ({ ...row, levels: [`yard ${i}`] }));
    const warned = worked({ ...input, records: alone }).warnings.map(({ code }) => code);
    expect(warned).toEqual(expect.arrayContaining(['alone', 'small-groups', 'few-records']));
  });
});

describe('leaving out a birth year', () => {
  test('fewer than fifty queens are refused with their number', () => {
    expect(validateByYear(input, 2025)).toMatchObject({ refused: 'few-focal', focal: expect.any(Number) });
  });
  test('three hundred queens, the last fifty left out', () => {
    const many = madeUp(330, 9);
    const found = validateByYear(many, 2025);
    expect(found).toMatchObject({ year: 2025, traits: [{ trait: 'honey', focal: 55 }, { trait: 'calmness' }] });
  });
});
