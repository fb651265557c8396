/**
 * What an incomplete factor misses of an inverse, where it misses most: the few smooth directions in which the equations know far less than the factor
 * believes (the general level of a year, say, which the absorbed classes take away). Preconditioned Lanczos (Lanczos 1950; Golub and Van Loan 2013,
 * § 10.3) finds them, and `C⁻¹ ≈ M⁻¹ + Q (T⁻¹ − I) Q'` on the space it spans.
 */
import { eigenOf } from '../dense/small-matrix.ts';
import type { LinearSystem } from './conjugate-gradients.ts';

/** Directions (`steps × unknowns`) and what each adds: 1/λ − 1. */
export type SmoothCorrection = {
  readonly steps: number;
  readonly length: number;
  readonly direction: Float64Array;
  readonly gain: Float64Array;
};

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/** a −= scale · b. */
function subtract(a: Float64Array, b: Float64Array, scale: number): void {
  for (let i = 0; i < a.length; i++) a[i] = (a[i] as number) - scale * (b[i] as number);
}

/**
 * The correction from `steps` Lanczos steps begun at `start` (any vector; it is overwritten). Fewer steps when the space is exhausted.
 * @param system multiply by C, precondition by M⁻¹
 */
export function smoothCorrection(system: LinearSystem, start: Float64Array, steps: number): SmoothCorrection {
  const length = start.length;
  const q: Float64Array[] = [];
  const w: Float64Array[] = [];
  const alpha: number[] = [];
  const beta: number[] = [];
  let residual = start;
  for (let k = 0; k < steps; k++) {
    const z = new Float64Array(length);
    system.precondition(residual, z);
    const norm = Math.sqrt(dot(z, residual));
    if (!(norm > 1e-10)) break;
    if (k > 0) beta.push(norm);
    q.push(z.map((value) => value / norm));
    w.push(residual.map((value) => value / norm));
    const v = new Float64Array(length);
    system.multiply(q[k] as Float64Array, v);
    alpha.push(dot(q[k] as Float64Array, v));
    for (let sweep = 0; sweep < 2; sweep++)
      for (let j = 0; j <= k; j++) subtract(v, w[j] as Float64Array, dot(q[j] as Float64Array, v));
    residual = v;
  }
  return ritz(q, alpha, beta);
}

function ritz(q: readonly Float64Array[], alpha: readonly number[], beta: readonly number[]): SmoothCorrection {
  const steps = q.length;
  const length = q[0]?.length ?? 0;
  const t = new Float64Array(steps * steps);
  for (let k = 0; k < steps; k++) {
    t[k * steps + k] = alpha[k] as number;
    if (k > 0) t[k * steps + k - 1] = t[(k - 1) * steps + k] = beta[k - 1] as number;
  }
  const { values, vectors } = eigenOf(t, steps);
  const direction = new Float64Array(steps * length);
  const gain = values.map((value) => 1 / value - 1);
  for (let k = 0; k < steps; k++) {
    for (let j = 0; j < steps; j++) {
      const s = vectors[j * steps + k] as number;
      const from = q[j] as Float64Array;
      for (let i = 0; i < length; i++)
        direction[k * length + i] = (direction[k * length + i] as number) + s * (from[i] as number);
    }
  }
  return { steps, length, direction, gain };
}
