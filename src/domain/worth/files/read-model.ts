/**
 * MODEL.json: `{"traits":[…],"fixed":[…],"G":[[…]],"R":[[…]]}`, and where they are wanted `"random":{"yard:year":[[…]]}` (one effect drawn towards
 * 0, with the covariance of its levels) and `"groups":{"founders":"line","open":"area","variance":1}` (columns of QUEENS.csv that name genetic
 * groups).
 */

import { eigenOf } from '#numeric/dense/small-matrix.ts';
import { decodeUtf8 } from '#units/utf8.ts';
import type { FileProblem } from '../../pedigree/files/file-problem.ts';
import type { NamedBytes } from '../../pedigree/files/read-pedigree.ts';
import type { Model } from '../model.ts';

/** The model with the keys of the file it does not know, or everything that is wrong with the file. */
export type ReadModel =
  | { model: Model; unused: readonly string[]; problems: [] }
  | { model: null; problems: FileProblem[] };

/** What a model file may say. */
export const MODEL_KEYS: readonly string[] = ['traits', 'fixed', 'G', 'R', 'random', 'groups'];

type Said = { key: string; code: string; found: string; expected: string; remedy?: string };

/**
 * Reads and checks a model: traits named once, G 2t × 2t and R t × t, both symmetric and positive definite.
 * Covariances are in squares of the traits' units. Every problem is answered, with the key it stands under as its column.
 * @example readModel(workedFiles.model).model // { traits: ['honey'], fixed: [['yard', 'year']], G: [6, -2, -2, 4], R: [10] }
 */
export function readModel(file: NamedBytes): ReadModel {
  const problems: FileProblem[] = [];
  const say = ({ key, code, found, expected, remedy = 'correct the model file' }: Said): void => {
    problems.push({ file: file.name, ...(key === '' ? {} : { column: key }), code, found, expected, remedy });
  };
  const { json, broken } = parse(file.bytes);
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    const found = broken ?? 'no JSON object';
    say({ key: '', code: 'model-not-json', found, expected: '{"traits":…,"fixed":…,"G":…,"R":…}' });
    return { model: null, problems };
  }
  const given = json as Record<string, unknown>;
  const traits = readTraits(given.traits, say);
  const fixed = readFixed(given.fixed, traits, say);
  if (traits.length === 0) return { model: null, problems };
  const G = readMatrix('G', given.G, 2 * traits.length, say);
  const R = readMatrix('R', given.R, traits.length, say);
  const random = readRandom(given.random, { fixed, traits }, say);
  const groups = readGroups(given.groups, say);
  if (problems.length > 0 || G === null || R === null) return { model: null, problems };
  farApart({ traits, G, R }, say);
  if (problems.length > 0) return { model: null, problems };
  const unused = Object.keys(given).filter((key) => !MODEL_KEYS.includes(key));
  return { unused, model: { traits, fixed, G, R, ...(random && { random }), ...(groups && { groups }) }, problems: [] };
}

const namesIn = (entry: string): string[] => entry.split(':').map((name) => name.trim());
const sameEffect = (a: readonly string[], b: readonly string[]): boolean =>
  [...a].sort().join() === [...b].sort().join();

/** A column that says nothing of the conditions a colony stood in: it would take out the very thing asked for. */
const isNoCondition = (entry: readonly string[], traits: readonly string[]): boolean =>
  entry.some((name) => name === 'queen' || traits.includes(name));
const CONDITIONS =
  'columns of the conditions colonies stood in, such as yard, year or tester; neither queen nor a trait';

type Beside = { fixed: readonly (readonly string[])[]; traits: readonly string[] };

function readRandom(value: unknown, { fixed, traits }: Beside, say: Say): Model['random'] | null {
  if (value === undefined) return null;
  const expected = 'one effect with the covariance of its levels, such as {"yard:year":[[4]]}';
  const entries = typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.entries(value) : [];
  const [name, matrix] = entries[0] ?? [];
  const effect = namesIn(name ?? '');
  if (entries.length !== 1 || effect.includes('')) {
    say({ key: 'random', code: 'model-random', found: JSON.stringify(value), expected });
    return null;
  }
  if (fixed.some((entry) => sameEffect(entry, effect))) {
    const remedy = 'take it out of "fixed" or out of "random"';
    say({ key: 'random', code: 'model-random-fixed', found: `"${name}", also fixed`, expected: 'one of both', remedy });
  }
  if (isNoCondition(effect, traits))
    say({ key: 'random', code: 'model-no-condition', found: `"${name}"`, expected: CONDITIONS });
  const covariance = readMatrix('random', matrix, traits.length, say);
  return covariance && { effect, covariance };
}

function readGroups(value: unknown, say: Say): Model['groups'] | null {
  if (value === undefined) return null;
  const expected =
    'columns of QUEENS.csv and a variance above 0, such as {"founders":"line","open":"area","variance":1}';
  const given = (typeof value === 'object' && value !== null ? value : {}) as Record<string, unknown>;
  const { founders, open, variance = 1, ...others } = given;
  const isColumn = (column: unknown) => column === undefined || (typeof column === 'string' && column.trim() !== '');
  const fits =
    Object.keys(others).length === 0 &&
    isColumn(founders) &&
    isColumn(open) &&
    (founders !== undefined || open !== undefined) &&
    typeof variance === 'number' &&
    variance > 0 &&
    Number.isFinite(variance);
  if (!fits) {
    say({ key: 'groups', code: 'model-groups', found: JSON.stringify(value), expected });
    return null;
  }
  return {
    variance,
    ...(founders === undefined ? {} : { founders: String(founders).trim() }),
    ...(open === undefined ? {} : { open: String(open).trim() }),
  };
}

/** The JSON, or in `broken` what is there instead, with what the engine says of it. */
function parse(bytes: Uint8Array): { json?: unknown; broken?: string } {
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  try {
    return { json: JSON.parse(decodeUtf8(bytes, mark)) };
  } catch (error) {
    return { broken: `something that is not JSON (${error instanceof Error ? error.message : error})` };
  }
}

type Say = (said: Said) => void;

function readTraits(value: unknown, say: Say): string[] {
  const expected = 'a list of trait columns, such as ["honey"]';
  if (
    !Array.isArray(value) ||
    value.length === 0 ||
    !value.every((name) => typeof name === 'string' && name.trim() !== '')
  ) {
    say({ key: 'traits', code: 'model-traits', found: JSON.stringify(value) ?? 'nothing', expected });
    return [];
  }
  const traits = value.map((name) => String(name).trim());
  const twice = traits.find((name, i) => traits.indexOf(name) !== i);
  if (twice !== undefined)
    say({ key: 'traits', code: 'model-trait-twice', found: `"${twice}" twice`, expected: 'each trait once' });
  return traits;
}

function readFixed(value: unknown, traits: readonly string[], say: Say): string[][] {
  const expected = 'a list of columns or interactions, such as ["yard:year"]';
  if (!Array.isArray(value) || !value.every((entry) => typeof entry === 'string')) {
    say({ key: 'fixed', code: 'model-fixed', found: JSON.stringify(value) ?? 'nothing', expected });
    return [];
  }
  const fixed = value.map((entry) => namesIn(String(entry)));
  for (const [k, entry] of fixed.entries()) {
    const written = String(value[k]);
    if (entry.some((name) => name === '')) say({ key: 'fixed', code: 'model-fixed', found: `"${written}"`, expected });
    if (isNoCondition(entry, traits))
      say({ key: 'fixed', code: 'model-no-condition', found: `"${written}"`, expected: CONDITIONS });
    if (fixed.findIndex((other) => sameEffect(other, entry)) < k) {
      say({ key: 'fixed', code: 'model-fixed-twice', found: `"${written}" twice`, expected: 'each fixed effect once' });
    }
  }
  return fixed;
}

/** Asymmetry allowed beside the diagonal: rounding of numbers written with a few digits. */
const ASYMMETRY = 1e-6;

function readMatrix(key: 'G' | 'R' | 'random', value: unknown, size: number, say: Say): Float64Array | null {
  const shape = `${size} rows of ${size} numbers`;
  const rows = Array.isArray(value) ? value : [];
  const isNumbers = (row: unknown): row is number[] =>
    Array.isArray(row) && row.length === size && row.every((x) => typeof x === 'number' && Number.isFinite(x));
  if (rows.length !== size || !rows.every(isNumbers)) {
    const order =
      key === 'G' ? ' (worker effect of trait 1, queen effect of trait 1, worker effect of trait 2, …)' : '';
    say({ key, code: 'model-shape', found: describe(value), expected: `${shape}${order}` });
    return null;
  }
  const matrix = Float64Array.from((rows as number[][]).flat());
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) {
      const [a, b] = [matrix[i * size + j] as number, matrix[j * size + i] as number];
      const scale = Math.sqrt(Math.abs((matrix[i * size + i] as number) * (matrix[j * size + j] as number)));
      if (Math.abs(a - b) > ASYMMETRY * scale) {
        say({
          key,
          code: 'model-not-symmetric',
          found: `${a} in row ${i + 1}, ${b} in column ${i + 1}`,
          expected: 'a symmetric matrix',
        });
        return null;
      }
      matrix[j * size + i] = matrix[i * size + j] = (a + b) / 2;
    }
  }
  const { values } = eigenOf(matrix, size);
  const [least = 0, most = 0] = [values[0], values[size - 1]];
  if (!(least > 1e-12 * most)) {
    const found = `a matrix with eigenvalue ${Number(least.toPrecision(6))}`;
    const remedy = 'variances must be above 0 and correlations strictly between -1 and 1, also taken together';
    say({ key, code: 'model-not-positive-definite', found, expected: 'a positive definite matrix', remedy });
    return null;
  }
  return matrix;
}

/** Variances of effects and of what is left further apart than this are out of reach of numbers with 16 digits. */
const FAR_APART = 1e12;

/** Variances of a trait so unlike its residual variance, or so large or small at all, that nothing can be worked out from them. */
function farApart({ traits, G, R }: Pick<Model, 'traits' | 'G' | 'R'>, say: Say): void {
  const t = traits.length;
  for (const [s, trait] of traits.entries()) {
    const residual = R[s * t + s] as number;
    for (const e of [2 * s, 2 * s + 1]) {
      const variance = G[e * 2 * t + e] as number;
      const ratio = variance / residual;
      const isNear = ratio < FAR_APART && ratio > 1 / FAR_APART && Math.abs(Math.log10(residual)) < 100;
      if (isNear) continue;
      say({
        key: 'G',
        code: 'model-far-apart',
        found: `a variance of ${variance} beside a residual variance of ${residual} (${trait})`,
        expected: 'variances in squares of the unit of the trait, not a million million times apart',
        remedy: 'correct the variances; write a trait in a unit in which its spread is about 1 to 100',
      });
      return;
    }
  }
}

function describe(value: unknown): string {
  if (!Array.isArray(value)) return JSON.stringify(value) ?? 'nothing';
  const columns = new Set(value.map((row) => (Array.isArray(row) ? row.length : 1)));
  const bad = value.flat().find((x) => typeof x !== 'number' || !Number.isFinite(x));
  return bad === undefined
    ? `${value.length} rows of ${[...columns].join(' or ')}`
    : `${JSON.stringify(bad)} among the numbers`;
}
