import type { Compute } from '#ports/compute.ts';
import { compute } from './computations.ts';

/** Computes in place: for the command line's small work and for tests. Cannot be stopped while it runs. */
export const computeHere: Compute = {
  run: async <A>(name: string, facts: unknown, options: Parameters<Compute['run']>[2] = {}) =>
    compute(name, facts, options.progress ?? (() => {})) as A,
};
