/**
 * Shares that add up to 1 within each of several groups, chosen to minimise `½ z'Kz − weight · gain'z` between bounds: a primal active-set method for
 * convex quadratic programmes (Nocedal and Wright 2006, algorithm 16.3). K may be singular; a tiny ridge makes each step unique.
 */
import { choleskyInPlace, type Square, solveCholesky } from '../dense/small-matrix.ts';

/** n shares: what is given up for them, and what bounds them. */
export type ShareProblem = {
  /** Symmetric and positive semidefinite, `n × n`, row after row. */
  readonly K: Square;
  /** What a whole share of each would gain, n numbers in any unit. */
  readonly gain: Float64Array;
  /** Group of each variable, 0, 1, …; the shares of a group add up to 1. */
  readonly group: Int32Array;
  readonly groups: number;
  /** Upper bound of each share, ≥ 0; within each group they must add up to 1 or more. */
  readonly upper: Float64Array;
};

const RIDGE = 1e-10;
const STILL = 1e-11;

type State = { z: Float64Array; free: boolean[] };

/**
 * Shares filled up in the order of `gain` from the best down: n numbers, feasible, and the best when only the gain counts.
 * @example greedyShares({ K: identity(2), gain: Float64Array.of(1, 0), group: Int32Array.of(0, 0), groups: 1, upper: Float64Array.of(0.7, 1) }) // [0.7, 0.3]
 */
export function greedyShares({ gain, group, groups, upper }: ShareProblem): Float64Array {
  const z = new Float64Array(gain.length);
  const left = new Float64Array(groups).fill(1);
  const order = Array.from(gain.keys()).sort((a, b) => (gain[b] as number) - (gain[a] as number));
  for (const i of order) {
    const g = group[i] as number;
    z[i] = Math.min(upper[i] as number, left[g] as number);
    left[g] = (left[g] as number) - (z[i] as number);
  }
  return z;
}

/**
 * The shares (n numbers) with the least `½ z'Kz − weight · gain'z`, from feasible shares `start`, which stay as they are. Time: a Cholesky factor of
 * the free shares a step, at most 50n + 100 steps; should they run out, the last feasible shares are answered.
 * Throws when K holds a number that is not finite.
 * @example const two = { K: identity(2), gain: Float64Array.of(1, 0), group: Int32Array.of(0, 0), groups: 1, upper: Float64Array.of(1, 1) };
 * bestShares(two, 0.5, Float64Array.of(1, 0)) // [0.75000, 0.25000]; z₁ − z₂ = ½
 */
export function bestShares(problem: ShareProblem, weight: number, start: Float64Array): Float64Array {
  const { K, upper } = problem;
  if (!K.every(Number.isFinite)) throw new RangeError('K holds a number that is not finite');
  const n = start.length;
  const state: State = {
    z: start.slice(),
    free: Array.from(start, (v, i) => v > STILL && v < (upper[i] as number) - STILL),
  };
  for (let round = 0; round < 50 * n + 100; round++) {
    const target = equalityOptimum(problem, weight, state);
    if (moveTowards(problem, state, target)) continue;
    if (!release(problem, weight, state)) return state.z;
  }
  return state.z;
}

/** Moves as far as bounds allow; `true` when a bound stopped it (that variable is then fixed there). */
function moveTowards({ upper }: ShareProblem, { z, free }: State, target: Float64Array): boolean {
  let step = 1;
  let blocking = -1;
  for (let i = 0; i < z.length; i++) {
    if (!free[i]) continue;
    const d = (target[i] as number) - (z[i] as number);
    const room = d < 0 ? -(z[i] as number) / d : d > 0 ? ((upper[i] as number) - (z[i] as number)) / d : 2;
    if (room < step) {
      step = Math.max(0, room);
      blocking = i;
    }
  }
  for (let i = 0; i < z.length; i++)
    if (free[i]) z[i] = (z[i] as number) + step * ((target[i] as number) - (z[i] as number));
  if (blocking < 0) return false;
  free[blocking] = false;
  z[blocking] =
    (target[blocking] as number) < (z[blocking] as number) || (z[blocking] as number) < (upper[blocking] as number) / 2
      ? 0
      : (upper[blocking] as number);
  return true;
}

/** Optimum over the free variables with the sums of their groups kept and everything else where it is. */
function equalityOptimum(problem: ShareProblem, weight: number, { z, free }: State): Float64Array {
  const { K, gain, group, groups } = problem;
  const n = z.length;
  const index = Array.from(z.keys()).filter((i) => free[i]);
  const f = index.length;
  const out = z.slice();
  if (f === 0) return out;
  const l = new Float64Array(f * f);
  let trace = 0;
  for (let i = 0; i < n; i++) trace += K[i * n + i] as number;
  const scale = trace > 0 ? trace / n : 1;
  for (const [a, i] of index.entries()) {
    for (const [b, j] of index.entries()) l[a * f + b] = K[i * n + j] as number;
    l[a * f + a] = (l[a * f + a] as number) + RIDGE * scale;
  }
  for (let more = RIDGE; !choleskyInPlace(l, f); more *= 100) {
    for (const [a, i] of index.entries()) {
      for (const [b, j] of index.entries()) l[a * f + b] = K[i * n + j] as number;
      l[a * f + a] = (l[a * f + a] as number) + 100 * more * scale;
    }
  }
  const pull = Float64Array.from(index, (i) => {
    let fixed = 0;
    for (let j = 0; j < n; j++) if (!free[j]) fixed += (K[i * n + j] as number) * (z[j] as number);
    return weight * (gain[i] as number) - fixed;
  });
  const base = solveCholesky(l, f, pull);
  const used = Array.from({ length: groups }, (_, g) => g).filter((g) => index.some((i) => group[i] === g));
  const columns = used.map((g) =>
    solveCholesky(
      l,
      f,
      Float64Array.from(index, (i) => (group[i] === g ? 1 : 0)),
    ),
  );
  const total = (v: Float64Array, g: number) =>
    index.reduce((sum, i, a) => sum + (group[i] === g ? (v[a] as number) : 0), 0);
  const kept = used.map((g) => index.reduce((sum, i) => sum + (group[i] === g ? (z[i] as number) : 0), 0));
  const small = Float64Array.from(used.flatMap((g) => columns.map((column) => total(column, g))));
  if (!choleskyInPlace(small, used.length)) return out;
  const multiplier = solveCholesky(
    small,
    used.length,
    Float64Array.from(used, (g, k) => (kept[k] as number) - total(base, g)),
  );
  for (const [a, i] of index.entries()) {
    out[i] = columns.reduce(
      (sum, column, k) => sum + (multiplier[k] as number) * (column[a] as number),
      base[a] as number,
    );
  }
  return out;
}

/** Frees the variable whose bound costs most; `false` when none costs anything. */
function release(problem: ShareProblem, weight: number, { z, free }: State): boolean {
  const { K, gain, group, groups, upper } = problem;
  const n = z.length;
  const slope = Float64Array.from({ length: n }, (_, i) => {
    let sum = -weight * (gain[i] as number);
    for (let j = 0; j < n; j++) sum += (K[i * n + j] as number) * (z[j] as number);
    return sum;
  });
  const scale = slope.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-300);
  let best = { cost: 1e-9 * scale, out: -1, into: -1 };
  for (let g = 0; g < groups; g++) {
    const members = Array.from(z.keys()).filter((i) => group[i] === g);
    const freed = members.filter((i) => free[i]);
    const level = freed.length > 0 ? freed.reduce((sum, i) => sum + (slope[i] as number), 0) / freed.length : null;
    const low = least(
      members.filter((i) => !free[i] && (z[i] as number) <= STILL && (upper[i] as number) > STILL),
      (i) => slope[i] as number,
    );
    const high = least(
      members.filter((i) => !free[i] && (z[i] as number) > STILL),
      (i) => -(slope[i] as number),
    );
    if (level !== null) {
      if (low >= 0 && level - (slope[low] as number) > best.cost)
        best = { cost: level - (slope[low] as number), out: low, into: low };
      if (high >= 0 && (slope[high] as number) - level > best.cost)
        best = { cost: (slope[high] as number) - level, out: high, into: high };
    } else if (low >= 0 && high >= 0 && (slope[high] as number) - (slope[low] as number) > best.cost) {
      best = { cost: (slope[high] as number) - (slope[low] as number), out: high, into: low };
    }
  }
  if (best.out < 0) return false;
  free[best.out] = true;
  free[best.into] = true;
  return true;
}

function least(indices: readonly number[], value: (i: number) => number): number {
  let best = -1;
  for (const i of indices) if (best < 0 || value(i) < value(best)) best = i;
  return best;
}

const form = (K: Square, z: Float64Array): number => {
  const n = z.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (z[i] === 0) continue;
    for (let j = 0; j < n; j++) sum += (z[i] as number) * (K[i * n + j] as number) * (z[j] as number);
  }
  return sum;
};

/** Shares (n numbers), their gain `gain'z` and their form `z'Kz`. */
export type Shares = { z: Float64Array; gain: number; form: number };

const sharesAt = ({ K, gain }: ShareProblem, z: Float64Array): Shares => ({
  z,
  gain: z.reduce((sum, value, i) => sum + value * (gain[i] as number), 0),
  form: form(K, z),
});

/**
 * The largest gain with `z'Kz ≤ limit`, or, when no shares reach the limit, the smallest form there is (its `form` then exceeds the limit).
 * The weight of the gain is found by quadrupling and halving; each search starts from the last shares. Throws as {@link bestShares}.
 * @example const two = { K: identity(2), gain: Float64Array.of(1, 0), group: Int32Array.of(0, 0), groups: 1, upper: Float64Array.of(1, 1) };
 * mostGain(two, 0.625).z // [0.75000, 0.25000]; (¾)² + (¼)² = 0.625
 */
export function mostGain(problem: ShareProblem, limit: number): Shares {
  const smallest = sharesAt(problem, bestShares(problem, 0, greedyShares(problem)));
  if (smallest.form > limit) return smallest;
  const largest = sharesAt(problem, greedyShares(problem));
  if (largest.form <= limit) return largest;
  let low = 0;
  let high = 1e-3;
  let best = smallest;
  for (;;) {
    const tried = sharesAt(problem, bestShares(problem, high, best.z));
    if (tried.form > limit) break;
    best = tried;
    low = high;
    high *= 4;
    if (high > 1e15) return best;
  }
  for (let round = 0; round < 200 && high - low > 1e-13 * high; round++) {
    const middle = low === 0 ? high / 2 : Math.sqrt(low * high);
    const tried = sharesAt(problem, bestShares(problem, middle, best.z));
    if (tried.form > limit) high = middle;
    else {
      low = middle;
      best = tried;
    }
  }
  return best;
}
