import { type Computation, computations } from '../computations.ts';
import type { RehearseFacts } from './rehearse-stock.ts';

/** Every computation, and those that need this machine (reading workbooks unpacks them): worker threads and the command line. */
export const nodeComputations: Readonly<Record<string, Computation>> = {
  ...computations,
  'rehearse-stock': async (facts: RehearseFacts) => (await import('./rehearse-stock.ts')).rehearseStock(facts),
};
