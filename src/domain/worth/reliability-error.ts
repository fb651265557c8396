/** How good approximate reliabilities are in this very stock: some queens worked out exactly as well, one solve each. */
import { randomStream } from '#numeric/random/random-stream.ts';
import type { Equations } from './equations.ts';
import type { Records } from './records.ts';
import { partsOf, weigher } from './weights-of-records.ts';

/** Approximate minus exact reliability of the worth as mother of queens. */
export type ReliabilityError = { queens: number; bias: number; rootMeanSquare: number; largest: number };

/** Queens drawn; fewer where one solve takes seconds. */
const drawn = (queens: number): number => Math.min(queens, queens > 300_000 ? 8 : 24);

/** Compares the approximate reliabilities with exact ones in queens drawn with a fixed seed, so that a rerun gives the same figures. */
export function reliabilityError(
  equations: Equations,
  records: Records,
  approximate: (queen: number, trait: number) => { reliability: number },
): ReliabilityError {
  const { queenRow } = equations.descent;
  const random = randomStream(1, 41);
  const weigh = weigher(equations, records, 1e-6);
  const traits = equations.model.traits.length;
  const differences = Array.from({ length: drawn(queenRow.length) }, (_, k) => {
    const queen = random.below(queenRow.length);
    const trait = k % traits;
    const exact = weigh(partsOf(equations, { queen, trait, criterion: 'mother' })).reliability;
    return approximate(queen, trait).reliability - exact;
  });
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    queens: differences.length,
    bias: mean(differences),
    rootMeanSquare: Math.sqrt(mean(differences.map((value) => value * value))),
    largest: Math.max(...differences.map(Math.abs)),
  };
}

/** One English sentence that stands beside approximate reliabilities. */
export const sayReliabilityError = ({ queens, bias, rootMeanSquare, largest }: ReliabilityError): string =>
  `reliabilities are approximate; in ${queens} queens worked out exactly as well they were ${bias >= 0 ? '+' : '−'}${Math.abs(bias).toFixed(3)} away on average, ${rootMeanSquare.toFixed(3)} by root mean square, ${largest.toFixed(3)} at most`;
