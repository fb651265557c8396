import type { Compute } from '#ports/compute.ts';
import { type Computation, computations, compute } from './computations.ts';

/** Computes in place: for the command line's small work and for tests. Cannot be stopped while it runs. */
export const computeIn = (list: Readonly<Record<string, Computation>>): Compute => ({
  run: async <A>(name: string, facts: unknown, options: Parameters<Compute['run']>[2] = {}) =>
    compute({ name, facts, progress: options.progress ?? (() => {}) }, list) as A,
});

/** The computations that run anywhere, in place. */
export const computeHere: Compute = computeIn(computations);
