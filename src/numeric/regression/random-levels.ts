import { choleskyInPlace, logDeterminant, type Square, solveCholesky } from '../dense/small-matrix.ts';
import { logistic, type RateTable, softPlus } from './logistic.ts';

/** A factor with random levels: `of[i]`, 0 … levels − 1, is the level of row i. Levels without rows are allowed. */
export type RandomFactor = { levels: number; of: Int32Array };

/** The inverse in the same blocks; `across` with its sign turned. */
type Inverse = { schur: Square; across: Float64Array; diagonal: Float64Array };

/**
 * The matrix I + Λ Z' W Z Λ of all levels, in blocks: the first factor meets itself only on the diagonal, the others are dense among themselves.
 * Solved through the Schur complement of the first, so many levels of one factor cost little. Time: levels of the first × (levels of the
 * others)² + (levels of the others)³.
 * @example const blocks = new LevelBlocks(1, 1); blocks.add(0, 0, 1); blocks.add(0, 1, 1); blocks.add(1, 1, 1);
 * blocks.factorise() // Math.log(3); the determinant of (2 1; 1 2)
 */
export class LevelBlocks {
  /** Levels of the first factor, and of all others together. */
  readonly first: number;
  readonly rest: number;
  readonly diagonal: Float64Array;
  readonly beside: Float64Array;
  readonly dense: Square;
  private factor: Square = new Float64Array(0);
  private inverse: Inverse | null = null;

  constructor(first: number, rest: number) {
    this.first = first;
    this.rest = rest;
    this.diagonal = new Float64Array(first).fill(1);
    this.beside = new Float64Array(first * rest);
    this.dense = new Float64Array(rest * rest);
    for (let j = 0; j < rest; j++) this.dense[j * rest + j] = 1;
  }

  /** Adds at places a, b of the levels, counted through all factors; each pair once. */
  add(a: number, b: number, value: number): void {
    const { first, rest } = this;
    if (a === b && a < first) this.diagonal[a] = (this.diagonal[a] as number) + value;
    else if (a < first) this.beside[a * rest + b - first] = (this.beside[a * rest + b - first] as number) + value;
    else {
      const at = (a - first) * rest + b - first;
      this.dense[at] = (this.dense[at] as number) + value;
      if (a !== b) this.dense[(b - first) * rest + a - first] = this.dense[at] as number;
    }
  }

  /** Factors the matrix, which is positive definite; answers ln of its determinant. */
  factorise(): number {
    const { first, rest, diagonal, beside } = this;
    const schur = this.dense.slice();
    let log = 0;
    for (let a = 0; a < first; a++) {
      log += Math.log(diagonal[a] as number);
      for (let i = 0; i < rest; i++) {
        const scaled = (beside[a * rest + i] as number) / (diagonal[a] as number);
        if (scaled === 0) continue;
        for (let j = 0; j < rest; j++)
          schur[i * rest + j] = (schur[i * rest + j] as number) - scaled * (beside[a * rest + j] as number);
      }
    }
    this.inverse = null;
    this.factor = schur;
    if (!choleskyInPlace(schur, rest)) throw new RangeError('the matrix of random levels is not positive definite');
    return log + logDeterminant(schur, rest);
  }

  /** Solves in place after {@link factorise}; answers x, levels of the first factor before the others. */
  solve(x: Float64Array): Float64Array {
    const { first, rest, diagonal, beside } = this;
    const below = x.slice(first);
    for (let a = 0; a < first; a++) {
      const scaled = (x[a] as number) / (diagonal[a] as number);
      for (let j = 0; j < rest; j++) below[j] = (below[j] as number) - (beside[a * rest + j] as number) * scaled;
    }
    solveCholesky(this.factor, rest, below);
    for (let a = 0; a < first; a++) {
      let sum = x[a] as number;
      for (let j = 0; j < rest; j++) sum -= (beside[a * rest + j] as number) * (below[j] as number);
      x[a] = sum / (diagonal[a] as number);
    }
    x.set(below, first);
    return x;
  }

  /**
   * Element (a, b) of the inverse, a <= b; between two different levels of the first factor it is not given. The first call after a factorisation
   * costs cells where factors meet × levels of the others, the next ones nothing.
   */
  inverseAt(a: number, b: number): number {
    this.inverse ??= this.invert();
    const { first, rest } = this;
    if (a >= first) return this.inverse.schur[(a - first) * rest + b - first] as number;
    if (b >= first) return -(this.inverse.across[a * rest + b - first] as number);
    return this.inverse.diagonal[a] as number;
  }

  private invert(): Inverse {
    const { first, rest, diagonal, beside } = this;
    const schur = new Float64Array(rest * rest);
    for (let j = 0; j < rest; j++) {
      const column = new Float64Array(rest);
      column[j] = 1;
      solveCholesky(this.factor, rest, column);
      for (let i = 0; i < rest; i++) schur[i * rest + j] = column[i] as number;
    }
    const across = new Float64Array(first * rest);
    const own = new Float64Array(first);
    for (let a = 0; a < first; a++) {
      let sum = 1;
      for (let i = 0; i < rest; i++) {
        const scaled = (beside[a * rest + i] as number) / (diagonal[a] as number);
        if (scaled === 0) continue;
        for (let j = 0; j < rest; j++)
          across[a * rest + j] = (across[a * rest + j] as number) + scaled * (schur[i * rest + j] as number);
      }
      for (let j = 0; j < rest; j++) sum += (beside[a * rest + j] as number) * (across[a * rest + j] as number);
      own[a] = sum / (diagonal[a] as number);
    }
    return { schur, across, diagonal: own };
  }
}

/** The levels that are most likely given the rest: u (standard units), ln of the determinant, and what is needed of every row. */
export type Conditional = {
  u: Float64Array;
  blocks: LevelBlocks;
  /** Σ y η − m ln(1 + e^η) − ½ u'u − ½ ln|A|: the Laplace log-likelihood without binomial coefficients. */
  logLikelihood: number;
  share: Float64Array;
  weight: Float64Array;
};

/**
 * Where each factor's levels begin when all are counted through.
 * @example beginnings([{ levels: 2, of: new Int32Array(0) }, { levels: 3, of: new Int32Array(0) }]) // [0, 2]
 */
export const beginnings = (factors: readonly RandomFactor[]): number[] => {
  let sum = 0;
  return factors.map(({ levels }) => {
    sum += levels;
    return sum - levels;
  });
};

/** The linear predictor: fixed part plus σ_k u of each factor's level. */
function withLevels(
  fixed: Float64Array,
  { factors, sigma, u }: { factors: readonly RandomFactor[]; sigma: Float64Array; u: Float64Array },
): Float64Array {
  const out = fixed.slice();
  const start = beginnings(factors);
  factors.forEach(({ of }, k) => {
    const [s, from] = [sigma[k] as number, start[k] as number];
    for (let i = 0; i < out.length; i++) out[i] = (out[i] as number) + s * (u[from + (of[i] as number)] as number);
  });
  return out;
}

function penalised({ successes, trials }: RateTable, eta: Float64Array, u: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < eta.length; i++)
    sum += (successes[i] as number) * (eta[i] as number) - (trials[i] as number) * softPlus(eta[i] as number);
  return u.reduce((rest, value) => rest - (value * value) / 2, sum);
}

/** Shares, weights, the slope to u and the blocks at one u. */
function normalEquations(
  { successes, trials }: RateTable,
  eta: Float64Array,
  { factors, sigma, u }: { factors: readonly RandomFactor[]; sigma: Float64Array; u: Float64Array },
) {
  const start = beginnings(factors);
  const first = factors[0]?.levels ?? 0;
  const blocks = new LevelBlocks(first, u.length - first);
  const slope = u.map((value) => -value);
  const share = eta.map(logistic);
  const weight = share.map((p, i) => (trials[i] as number) * p * (1 - p));
  for (let i = 0; i < eta.length; i++) {
    const r = (successes[i] as number) - (trials[i] as number) * (share[i] as number);
    factors.forEach(({ of }, k) => {
      const at = (start[k] as number) + (of[i] as number);
      const s = sigma[k] as number;
      slope[at] = (slope[at] as number) + s * r;
      for (let l = k; l < factors.length; l++) {
        const beside = (start[l] as number) + (factors[l]?.of[i] as number);
        blocks.add(at, beside, s * (sigma[l] as number) * (weight[i] as number));
      }
    });
  }
  return { blocks, slope, share, weight };
}

/**
 * The most likely levels at fixed coefficients and spreads, by Newton's method (the likelihood is concave in them), and the Laplace log-likelihood
 * there (Breslow and Clayton 1993, J Am Stat Assoc 88:9; the same as one-point adaptive quadrature).
 * In the example u solves 3 − 4/(1 + exp(−u)) = u and its mirror image.
 * @param fixed linear predictor of the rows without random levels
 * @param given factors, the largest first; standard deviations; where to begin
 * @example const given = { factors: [{ levels: 2, of: Int32Array.of(0, 1) }], sigma: Float64Array.of(1), u: new Float64Array(2) };
 * const table = { successes: Float64Array.of(1, 3), trials: Float64Array.of(4, 4) };
 * mostLikelyLevels(table, new Float64Array(2), given).u // [-0.50524, 0.50524]
 */
export function mostLikelyLevels(
  table: RateTable,
  fixed: Float64Array,
  given: { factors: readonly RandomFactor[]; sigma: Float64Array; u: Float64Array },
): Conditional {
  let u = given.u;
  let eta = withLevels(fixed, { ...given, u });
  let value = penalised(table, eta, u);
  for (let n = 0; n < 100; n++) {
    const { blocks, slope, share, weight } = normalEquations(table, eta, { ...given, u });
    const log = blocks.factorise();
    const step = blocks.solve(slope);
    const moved = step.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
    if (moved < 1e-11 || n === 99) return { u, blocks, logLikelihood: value - log / 2, share, weight };
    let size = 1;
    for (let halved = 0; halved < 40; halved++, size /= 2) {
      const there = u.map((one, j) => one + size * (step[j] as number));
      const thereEta = withLevels(fixed, { ...given, u: there });
      const thereValue = penalised(table, thereEta, there);
      if (thereValue < value - 1e-12 * Math.abs(value) && halved < 39) continue;
      [u, eta, value] = [there, thereEta, thereValue];
      break;
    }
  }
  throw new RangeError('unreachable');
}
