/**
 * G and R as L L' with the entries of L free: every step gives matrices that are not negative, and a variance may go to 0 or a correlation to ±1
 * smoothly. The effects stand in L from the largest variance down (given those before), so that what goes to 0 stands last, where it turns
 * nothing else. Derivatives are carried over from G and R.
 */
import { choleskyInPlace, multiply, type Square } from '#numeric/dense/small-matrix.ts';
import type { Model } from '../model.ts';
import { type Forms, type Parameter, parametersOf } from './forms.ts';

/** A lower triangle, and which row of the matrix each of its rows is. */
export type Triangle = { l: Square; order: readonly number[] };
/** Factors of both covariance matrices: of G (2t × 2t) and of R (t × t). */
export type Factors = { G: Triangle; R: Triangle };

/** Diagonals of L are at least this part of the root of the largest variance, so that the equations can still be set up. */
const LEAST = 1e-3;

const sizeOf = (of: 'G' | 'R', traits: number): number => (of === 'G' ? 2 * traits : traits);

/** Rows from the largest variance down, each given the rows before it (Cholesky with pivoting); `scale` makes traits comparable. */
function pivotOrder(a: Square, size: number, scale: (row: number) => number): number[] {
  const rest = a.slice();
  const order: number[] = [];
  for (let step = 0; step < size; step++) {
    let best = -1;
    for (let i = 0; i < size; i++) {
      const value = (rest[i * size + i] as number) / scale(i);
      if (!order.includes(i) && (best < 0 || value > (rest[best * size + best] as number) / scale(best))) best = i;
    }
    order.push(best);
    const pivot = rest[best * size + best] as number;
    if (!(pivot > 0)) continue;
    const column = Float64Array.from({ length: size }, (_, i) => rest[i * size + best] as number);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++)
        rest[i * size + j] = (rest[i * size + j] as number) - ((column[i] as number) * (column[j] as number)) / pivot;
    }
  }
  return order;
}

function permuted(a: Square, order: readonly number[]): Square {
  const size = order.length;
  return Float64Array.from(
    { length: size * size },
    (_, k) => a[(order[Math.floor(k / size)] as number) * size + (order[k % size] as number)] as number,
  );
}

/**
 * The factors of a model's G and R. Throws when one of them is not positive definite.
 * @example factorsOf(workedPrepared().model).R.l // [Math.sqrt(10)]
 */
export function factorsOf(model: Model): Factors {
  const t = model.traits.length;
  const residual = (trait: number) => model.R[trait * t + trait] as number;
  const triangle = (a: Square, size: number, scale: (row: number) => number): Triangle => {
    const order = pivotOrder(a, size, scale);
    const l = permuted(a, order);
    if (!choleskyInPlace(l, size)) throw new RangeError('the variances to start from are not positive definite');
    return { l, order };
  };
  return { G: triangle(model.G, 2 * t, (row) => residual(row >> 1)), R: triangle(model.R, t, residual) };
}

/**
 * The model at given factors, G = L L' and R likewise (squares of the traits' units), rows put back in their own order. Diagonals of L are lifted to 1/1000 of
 * the length of their row, so that both stay positive definite; signs do not matter.
 * @example const { model } = workedPrepared(); modelAt(model, factorsOf(model)).G // [6, -2, -2, 4]
 */
export function modelAt(model: Model, factors: Factors): Model {
  return { ...model, G: squared(factors.G), R: squared(factors.R) };
}

function squared({ l, order }: Triangle): Square {
  const size = order.length;
  const lifted = l.slice();
  for (let i = 0; i < size; i++) {
    const row = Math.hypot(...l.subarray(i * size, i * size + i + 1));
    const diagonal = l[i * size + i] as number;
    lifted[i * size + i] =
      Math.max(Math.abs(diagonal), LEAST * row, LEAST * LEAST * Math.abs(l[0] as number)) * (diagonal < 0 ? -1 : 1);
  }
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      let sum = 0;
      for (let k = 0; k <= Math.min(i, j); k++)
        sum += (lifted[i * size + k] as number) * (lifted[j * size + k] as number);
      out[(order[i] as number) * size + (order[j] as number)] = sum;
    }
  }
  return out;
}

/** Slope of ℓ in the entries of L (n of them, in the order of `parametersOf`), and minus its curvature (n × n, row by row). */
export type Slope = { gradient: Float64Array; curvature: Float64Array };

/**
 * Slope and curvature of ℓ in L from score and average information in G and R: `∂ℓ/∂L = 2 S L` for the score S; curvature `J' AI J − 2 S` (the latter between entries of one column of L), J the derivative of (G, R) in L.
 * @example const [factors, score] = [factorsOf(workedPrepared().model), { G: Float64Array.of(1, 0, 0, 0), R: Float64Array.of(0) }];
 * slopeIn(factors, score, new Float64Array(16), 1).gradient // [2 * Math.sqrt(6), 0, 0, 0]
 */
export function slopeIn(factors: Factors, score: Forms, information: Float64Array, traits: number): Slope {
  const parameters = parametersOf(traits);
  const n = parameters.length;
  const scores = { G: permuted(score.G, factors.G.order), R: permuted(score.R, factors.R.order) };
  const half = {
    G: multiply(scores.G, factors.G.l, sizeOf('G', traits)),
    R: multiply(scores.R, factors.R.l, sizeOf('R', traits)),
  };
  const gradient = Float64Array.from(
    parameters,
    ({ of, row, column }) => 2 * (half[of][row * sizeOf(of, traits) + column] as number),
  );
  const jacobian = jacobianOf(factors, parameters, traits);
  const transposed = Float64Array.from(
    { length: n * n },
    (_, k) => jacobian[(k % n) * n + Math.floor(k / n)] as number,
  );
  const curvature = multiply(
    multiply(transposed, permutedInformation(factors, information, parameters), n),
    jacobian,
    n,
  );
  for (const [i, one] of parameters.entries()) {
    for (const [k, other] of parameters.entries()) {
      if (one.of !== other.of || one.column !== other.column) continue;
      curvature[i * n + k] =
        (curvature[i * n + k] as number) - 2 * (scores[one.of][one.row * sizeOf(one.of, traits) + other.row] as number);
    }
  }
  return { gradient, curvature };
}

/** d(LL')_ij = dL_ik L_jk + L_ik dL_jk: for an entry (a, b) of L the first counts where i = a, the second where j = a. */
function jacobianOf(factors: Factors, parameters: readonly Parameter[], traits: number): Square {
  const n = parameters.length;
  const out = new Float64Array(n * n);
  for (const [k, entry] of parameters.entries()) {
    const size = sizeOf(entry.of, traits);
    const { l } = factors[entry.of];
    for (const [i, theta] of parameters.entries()) {
      if (entry.of !== theta.of) continue;
      let value = 0;
      if (theta.row === entry.row) value += l[theta.column * size + entry.column] as number;
      if (theta.column === entry.row) value += l[theta.row * size + entry.column] as number;
      out[i * n + k] = value;
    }
  }
  return out;
}

/** The information between the elements of the permuted matrices. */
function permutedInformation(factors: Factors, information: Float64Array, parameters: readonly Parameter[]): Square {
  const n = parameters.length;
  const from = parameters.map(({ of, row, column }) => {
    const [a, b] = [factors[of].order[row] as number, factors[of].order[column] as number];
    return parameters.findIndex((p) => p.of === of && p.row === Math.max(a, b) && p.column === Math.min(a, b));
  });
  return Float64Array.from(
    { length: n * n },
    (_, k) => information[(from[Math.floor(k / n)] as number) * n + (from[k % n] as number)] as number,
  );
}

/**
 * The factors a step further: step k is added to entry k of the two triangles (in the order of `parametersOf`).
 * @example stepped(factorsOf(workedPrepared().model), Float64Array.of(1, 0, 0, 0), 1).G.l[0] // 1 + Math.sqrt(6)
 */
export function stepped(factors: Factors, step: Float64Array, traits: number): Factors {
  const l = { G: factors.G.l.slice(), R: factors.R.l.slice() };
  for (const [k, { of, row, column }] of parametersOf(traits).entries()) {
    const at = row * sizeOf(of, traits) + column;
    l[of][at] = (l[of][at] as number) + (step[k] as number);
  }
  return { G: { ...factors.G, l: l.G }, R: { ...factors.R, l: l.R } };
}
