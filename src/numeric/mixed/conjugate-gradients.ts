/** A symmetric positive definite system as what can be done with it. */
export type LinearSystem = {
  /** out = A x. */
  multiply(x: Float64Array, out: Float64Array): void;
  /** z = M⁻¹ r. */
  precondition(r: Float64Array, z: Float64Array): void;
};

/** When an iteration ends. */
export type Stopping = {
  /** ‖r‖ / ‖b‖ at which to stop. */
  tolerance: number;
  mostIterations: number;
  /** Called after every iteration with the residual reached; answering `false` stops. */
  onIteration?: (iteration: number, residual: number) => boolean | undefined;
};

/** How an iteration ended: how many there were, and ‖b − Ax‖ / ‖b‖ as it was carried along; above the tolerance when it was stopped. */
export type Solved = { iterations: number; residual: number };

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/**
 * Preconditioned conjugate gradients (Hestenes and Stiefel 1952; Golub and Van Loan 2013, algorithm 11.5.1). `x` holds the start and then the
 * solution; it becomes 0 when b is 0. Also right for a singular but consistent system, of which it reaches one solution; start and preconditioner
 * decide which (without a preconditioner, what lies in the null space stays as it started). Never throws: look at the residual. Memory: four
 * vectors; time: a product and a preconditioning an iteration.
 * @example const x = new Float64Array(2);
 * const system = { multiply: (v, out) => out.set([4 * v[0] + v[1], v[0] + 3 * v[1]]), precondition: (r, z) => z.set(r) };
 * conjugateGradients(system, Float64Array.of(9, 5), x, { tolerance: 1e-12, mostIterations: 10 }); x // [2, 1]
 */
export function conjugateGradients(system: LinearSystem, b: Float64Array, x: Float64Array, stopping: Stopping): Solved {
  const n = b.length;
  const r = new Float64Array(n);
  const z = new Float64Array(n);
  const q = new Float64Array(n);
  const whole = Math.sqrt(dot(b, b));
  if (whole === 0) {
    x.fill(0);
    return { iterations: 0, residual: 0 };
  }
  system.multiply(x, q);
  for (let i = 0; i < n; i++) r[i] = (b[i] as number) - (q[i] as number);
  let residual = Math.sqrt(dot(r, r)) / whole;
  if (residual <= stopping.tolerance) return { iterations: 0, residual };
  system.precondition(r, z);
  const p = z.slice();
  let rz = dot(r, z);
  let iterations = 0;
  while (iterations < stopping.mostIterations) {
    system.multiply(p, q);
    const alpha = rz / dot(p, q);
    if (!Number.isFinite(alpha)) break;
    for (let i = 0; i < n; i++) {
      x[i] = (x[i] as number) + alpha * (p[i] as number);
      r[i] = (r[i] as number) - alpha * (q[i] as number);
    }
    iterations++;
    residual = Math.sqrt(dot(r, r)) / whole;
    if (residual <= stopping.tolerance || stopping.onIteration?.(iterations, residual) === false) break;
    system.precondition(r, z);
    const next = dot(r, z);
    const beta = next / rz;
    rz = next;
    for (let i = 0; i < n; i++) p[i] = (z[i] as number) + beta * (p[i] as number);
  }
  return { iterations, residual };
}
