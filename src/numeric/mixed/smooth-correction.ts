/**
 * What an incomplete factor misses of an inverse, where it misses most: the few smooth directions in which the equations know far less than the
 * factor believes (the general level of a year, say, which the absorbed classes take away). Preconditioned Lanczos (Lanczos 1950; Golub and Van Loan
 * 2013, § 10.3) finds them, and `C⁻¹ ≈ M⁻¹ + Q (T⁻¹ − I) Q'` on the space it spans.
 */
import { eigenOf } from '../dense/small-matrix.ts';
import type { LinearSystem } from './conjugate-gradients.ts';

/** Directions (`steps × length`, one after another) and what each adds, 1/λ − 1: `C⁻¹ ≈ M⁻¹ + Σ_k gain_k d_k d_k'`. */
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
 * The correction from a block Krylov space of `steps` vectors grown from the starts (as many as eigenvalues may coincide; any vectors; overwritten).
 * Fewer when the space is exhausted. Time: a product, a preconditioning and steps · length operations a step; memory: three vectors a step.
 * @param system multiply by C, precondition by M⁻¹
 * @example const system = { multiply: (x, out) => out.set([2 * x[0], x[1]]), precondition: (r, z) => z.set(r) };
 * smoothCorrection(system, [Float64Array.of(1, 0)], 1) // { steps: 1, direction: [1, 0], gain: [-0.5] }; 1/2 − 1
 */
export function smoothCorrection(
  system: LinearSystem,
  starts: readonly Float64Array[],
  steps: number,
): SmoothCorrection {
  const length = starts[0]?.length ?? 0;
  const q: Float64Array[] = [];
  const w: Float64Array[] = [];
  const projected = new Float64Array(steps * steps);
  /** Adds a vector, given on the side of residuals, made orthogonal to all before it. */
  const add = (v: Float64Array): void => {
    for (let sweep = 0; sweep < 2; sweep++) {
      for (const [j, other] of q.entries()) subtract(v, w[j] as Float64Array, dot(other, v));
    }
    const z = new Float64Array(length);
    system.precondition(v, z);
    const norm = Math.sqrt(dot(z, v));
    if (!(norm > 1e-10)) return;
    for (let i = 0; i < length; i++) {
      z[i] = (z[i] as number) / norm;
      v[i] = (v[i] as number) / norm;
    }
    q.push(z);
    w.push(v);
  };
  for (const start of starts.slice(0, steps)) add(start);
  for (let k = 0; k < q.length; k++) {
    const v = new Float64Array(length);
    system.multiply(q[k] as Float64Array, v);
    for (const [j, other] of q.entries()) {
      const value = dot(other, v);
      projected[j * steps + k] = value;
      projected[k * steps + j] = value;
    }
    if (q.length < steps) add(v);
  }
  return ritz(q, projected, steps);
}

function ritz(q: readonly Float64Array[], projected: Float64Array, room: number): SmoothCorrection {
  const steps = q.length;
  const length = q[0]?.length ?? 0;
  const t = new Float64Array(steps * steps);
  for (let i = 0; i < steps; i++) for (let j = 0; j < steps; j++) t[i * steps + j] = projected[i * room + j] as number;
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
