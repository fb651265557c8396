/** What an evaluation is worked out from, as plain data: kept with a stored run, so that it can be worked out again without the old book. */
import { choleskyInPlace } from '#numeric/dense/small-matrix.ts';
import { sha256 } from '#numeric/hash/sha-256.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { PedigreeFacts } from '../pedigree/facts.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { layPedigreeOf, type PedigreeProblem } from '../pedigree/pedigree.ts';
import type { ReliabilityKind } from './breeding-values.ts';
import { type Groups, groupsOf } from './groups.ts';
import { effectsOf, type Model } from './model.ts';
import { type Records, TOO_LARGE } from './records.ts';

/** A {@link Model} with its matrices as lists of rows. */
export type PlainModel = {
  traits: readonly string[];
  fixed: readonly (readonly string[])[];
  /** 2t × 2t: worker effect of trait 1, queen effect of trait 1, worker effect of trait 2, … on the traits' scales. */
  G: readonly (readonly number[])[];
  /** t × t. */
  R: readonly (readonly number[])[];
  random?: { effect: readonly string[]; covariance: readonly (readonly number[])[] };
};

/** One queen and season. */
export type RecordRow = {
  /** Her id in the pedigree. */
  queen: string;
  /** One text an effect of the model, the random one first, already joined: `3 Hill:2026`. */
  levels: readonly string[];
  /** One a trait; `null` = not recorded. */
  values: readonly (number | null)[];
  /** An opaque name of the record, given back where an answer is explained. */
  record: string;
};

/** Everything one evaluation rests on; the same input gives the same answer, bit for bit. */
export type EvaluationInput = {
  pedigree: PedigreeFacts;
  records: readonly RecordRow[];
  model: PlainModel;
  /** Year of birth by queen id, for the trend and for leaving a year out. */
  years?: Readonly<Record<string, number>>;
  /** Genetic group of founders, and of the open drones queens are mated to, by queen id; variance of a group's mean in units of G. */
  groups?: {
    founders: Readonly<Record<string, string>>;
    open?: Readonly<Record<string, string>>;
    variance: number;
  };
  /** Exact to 30,000 queens when left out. */
  reliability?: ReliabilityKind;
  /** Ids of the reference cohort whose mean is 0; none: counted from the founders. */
  reference?: readonly string[];
  /** Worth of one unit of each trait; none: no index. */
  weights?: Readonly<Record<string, number>>;
};

/** What keeps an input from being evaluated, with its path into the input. */
export type EvaluationProblem = Problem<
  | PedigreeProblem['code']
  | 'worth-no-traits'
  | 'worth-no-records'
  | 'worth-trait-without-records'
  | 'worth-unknown-queen'
  | 'worth-record-of-group'
  | 'worth-level-missing'
  | 'worth-not-a-number'
  | 'worth-not-definite'
>;

/** Everything laid out, ready to be solved. */
export type Prepared = {
  pedigree: Pedigree;
  records: Records;
  model: Model;
  groups?: Groups;
  rows: readonly RecordRow[];
};

const byText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
const keyOf = ({ queen, levels, record }: RecordRow) => [queen, ...levels, record].join(' ');
const sortedBy = <T>(list: readonly T[], key: (one: T) => string): T[] =>
  [...list].sort((a, b) => byText(key(a), key(b)));

/**
 * The same input in one order, whatever order it came in, so that the same facts give the same bits: queens and pools by id, records by queen, levels and
 * name, the reference cohort by id (plain comparison of texts). What was given stays as it is.
 * @example inOneOrder({ ...workedInput, records: [...workedInput.records].reverse() }).records[0].queen // 'A'
 */
export function inOneOrder(input: EvaluationInput): EvaluationInput {
  const { pedigree, records } = input;
  return {
    ...input,
    pedigree: {
      ...pedigree,
      queens: sortedBy(pedigree.queens, ({ id }) => id),
      pools: sortedBy(pedigree.pools, ({ id }) => id),
    },
    records: sortedBy(records, keyOf),
    ...(input.reference === undefined ? {} : { reference: [...input.reference].sort(byText) }),
  };
}

/** Plain data with the fields of every object put in one order, whatever order they were written in. */
function inFieldOrder(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(inFieldOrder);
  const held = value as Readonly<Record<string, unknown>>;
  const out: Record<string, unknown> = {};
  for (const name of Object.keys(held).sort(byText)) out[name] = inFieldOrder(held[name]);
  return out;
}

/** JSON with the fields of every object in one order; what is undefined is left out. */
const canonicalJson = (value: unknown): string => JSON.stringify(inFieldOrder(value));

/**
 * SHA-256 (FIPS 180-4) over descent, records and parameters in one order; 64 hexadecimal digits. The order queens and records came in does not matter, nor
 * that of fields; what is undefined does not count.
 * @example fingerprintOf({ ...workedInput, records: [...workedInput.records].reverse() }) === fingerprintOf(workedInput) // true
 * @example fingerprintOf({ ...workedInput, weights: { honey: 2 } }) === fingerprintOf(workedInput) // false
 */
export const fingerprintOf = (input: EvaluationInput): string => sha256(canonicalJson(inOneOrder(input)));

/**
 * SHA-256 (FIPS 180-4) over plain data with the fields of every object in one order; 64 hexadecimal digits: of an answer, so that the same bits can be proved.
 * JSON writes a number so that it reads back bit for bit, but NaN and ±Infinity as null and −0 as 0: those are not told apart.
 * @example fingerprintOfAnswer({ b: 1, a: 2 }).slice(0, 16) // 'd3626ac30a87e6f7'; sha256sum of {"a":2,"b":1}
 */
export const fingerprintOfAnswer = (answer: unknown): string => sha256(canonicalJson(answer));

/**
 * The part of an input that is chosen, not recorded, as plain data to keep with a run: model, kind of reliabilities, how many queens the reference cohort has
 * (0 = counted from the founders), weights and the variance of genetic groups (null without).
 * @example parametersOf(workedInput) // { reliability: 'exact to 30,000 queens', reference: 0, weights: { honey: 1 }, groups: null }
 */
export const parametersOf = ({ model, groups, reliability, reference, weights }: EvaluationInput) => ({
  model,
  reliability: reliability ?? 'exact to 30,000 queens',
  reference: reference?.length ?? 0,
  weights: weights ?? null,
  groups: groups === undefined ? null : groups.variance,
});

const flat = (rows: readonly (readonly number[])[]): Float64Array => Float64Array.from(rows.flat());

const modelOf = ({ G, R, random, traits, fixed }: PlainModel): Model => ({
  traits,
  fixed,
  G: flat(G),
  R: flat(R),
  ...(random === undefined ? {} : { random: { effect: random.effect, covariance: flat(random.covariance) } }),
});

const isSymmetric = (a: Float64Array, size: number): boolean =>
  a.length === size * size &&
  a.every((v, k) => {
    const other = a[(k % size) * size + Math.floor(k / size)] as number;
    return Number.isFinite(v) && Math.abs(v - other) <= 1e-9 * Math.abs(other);
  });

function problemsOfModel(model: Model, rows: readonly RecordRow[]): EvaluationProblem[] {
  const t = model.traits.length;
  if (t === 0) return [refuse('model.traits', 'worth-no-traits')];
  if (rows.length === 0) return [refuse('records', 'worth-no-records')];
  const problems: EvaluationProblem[] = [];
  const definite = (a: Float64Array, size: number) => isSymmetric(a, size) && choleskyInPlace(a.slice(), size);
  if (!definite(model.G, 2 * t)) problems.push(refuse('model.G', 'worth-not-definite', { what: 'G' }));
  if (!definite(model.R, t)) problems.push(refuse('model.R', 'worth-not-definite', { what: 'R' }));
  if (model.random !== undefined && !definite(model.random.covariance, t))
    problems.push(refuse('model.random', 'worth-not-definite', { what: 'random' }));
  for (const [s, trait] of model.traits.entries())
    if (rows.every(({ values }) => values[s] == null))
      problems.push(refuse('records', 'worth-trait-without-records', { trait }));
  return problems;
}

/** Records that fit nobody: of a queen who is not in the stock, of a whole group of sisters, without a yard-year, or no number. */
function problemsOfRecords(rows: readonly RecordRow[], model: Model, { stock }: Pedigree): EvaluationProblem[] {
  const effects = effectsOf(model).length;
  return rows.flatMap(({ queen, levels, values }): EvaluationProblem[] => {
    const found = stock.names.queenIndex(queen);
    if (found < 0) return [refuse('records', 'worth-unknown-queen', { found: queen })];
    const code = stock.names.queenName(found);
    if ((stock.columns.sisters[found] as number) > 1)
      return [refuse('records', 'worth-record-of-group', { queen: code })];
    if (levels.length < effects || levels.includes(''))
      return [refuse('records', 'worth-level-missing', { queen: code })];
    const odd = values.find((value) => value !== null && !(Math.abs(value) < TOO_LARGE));
    return odd === undefined ? [] : [refuse('records', 'worth-not-a-number', { queen: code, found: String(odd) })];
  });
}

/** The records as columns, with the levels of each effect in the order they first occur. */
function recordsOf(rows: readonly RecordRow[], model: Model, { stock }: Pedigree): Records {
  const t = model.traits.length;
  const values = new Float64Array(rows.length * t).fill(Number.NaN);
  const factors = effectsOf(model).map((_, k) => {
    const numbers = new Map<string, number>();
    const level = Int32Array.from(rows, ({ levels }) => {
      const name = levels[k] ?? '';
      const known = numbers.get(name) ?? numbers.size;
      numbers.set(name, known);
      return known;
    });
    return { level, names: [...numbers.keys()] };
  });
  for (const [r, row] of rows.entries()) for (let s = 0; s < t; s++) values[r * t + s] = row.values[s] ?? Number.NaN;
  const queen = Int32Array.from(rows, (row) => stock.names.queenIndex(row.queen));
  return { count: rows.length, queen, values, factors };
}

/**
 * Lays out an input, or says what cannot stand: loops, a dam younger than her daughter, variances that cannot be, a trait nobody recorded, a record of a queen
 * who is not in the stock or of a whole group, a level left out, a value that is no number. Each problem has a path into the input, a code and its values.
 * Records without any value are left out first. Queens and records are put in one order, and levels numbered as they first occur in it, so that the same facts
 * give the same columns. Nothing is thrown.
 * @example prepareEvaluation(workedInput).records.factors[0].names // ['1:2025', '2:2025']
 * @example prepareEvaluation({ ...workedInput, records: [] }).problems[0] // { path: 'records', code: 'worth-no-records' }
 */
export function prepareEvaluation(given: EvaluationInput): Prepared | { problems: readonly EvaluationProblem[] } {
  const input = inOneOrder(given);
  const model = modelOf(input.model);
  // A row without any value says nothing and would only hold a level open.
  const rows = input.records.filter(({ values }) => values.some((value) => value !== null));
  const problems = problemsOfModel(model, rows);
  if (problems.length > 0) return { problems };
  const laid = layPedigreeOf(input.pedigree);
  if (laid.pedigree === null) return { problems: laid.problems };
  const { pedigree } = laid;
  const unfit = problemsOfRecords(rows, model, pedigree);
  if (unfit.length > 0) return { problems: unfit };
  const { groups } = input;
  const founder = new Map(Object.entries(groups?.founders ?? {}));
  const open = new Map(Object.entries(groups?.open ?? {}));
  return {
    pedigree,
    records: recordsOf(rows, model, pedigree),
    model,
    rows,
    ...(groups === undefined || founder.size + open.size === 0
      ? {}
      : { groups: groupsOf(pedigree, { founder, open, variance: groups.variance }) }),
  };
}
