/** How good approximate reliabilities are in this very stock: some queens worked out exactly as well, one solve each. */
import { randomStream } from '#numeric/random/random-stream.ts';
import type { Equations } from './equations.ts';
import type { Records } from './records.ts';
import { partsOfCombination, weigher } from './weights-of-records.ts';

/** Approximate minus exact reliability over the queens drawn. */
export type ReliabilityError = { queens: number; bias: number; rootMeanSquare: number; largest: number };

/** What is compared: combinations as {@link combinationOf} makes them, taken in turn, and the approximate reliability of each. */
type Compared = {
  combinations: readonly Float64Array[];
  approximate: (queen: number, combination: number) => number;
  /** Told after every queen, 0-1. */
  progress?: (part: number) => void;
};

/** Queens drawn; fewer where one solve takes seconds. */
const drawn = (queens: number): number => Math.min(queens, queens > 300_000 ? 8 : 24);

/**
 * Compares the approximate reliabilities with exact ones in queens drawn with a fixed seed (24, or 8 beyond 300,000 queens; with repetition, and no more draws
 * than queens), so that a rerun gives the same figures. The exact reliability of a combination k is `g'Pg / k'(A ⊗ G)k`, g its covariances with the records
 * and P the projection of the restricted likelihood, solved to a relative residual of 1e-6: one solve a queen. Differences without unit, approximate less
 * exact.
 * @example const approximate = () => 0.05; const compared = { combinations: [combinationOf('mother', [1])], approximate };
 * reliabilityError(workedEquations(), workedPrepared().records, compared) // { queens: 7, largest: 0.0450 }; A has 0.0950, nobody is farther off
 */
export function reliabilityError(
  equations: Equations,
  records: Records,
  { combinations, approximate, progress }: Compared,
): ReliabilityError {
  const { queenRow } = equations.descent;
  const random = randomStream(1, 41);
  const weigh = weigher(equations, records, 1e-6);
  const n = drawn(queenRow.length);
  const differences = Array.from({ length: n }, (_, k) => {
    const queen = random.below(queenRow.length);
    const c = k % combinations.length;
    const exact = weigh(partsOfCombination(equations, queen, combinations[c] as Float64Array)).reliability;
    progress?.((k + 1) / n);
    return approximate(queen, c) - exact;
  });
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    queens: differences.length,
    bias: mean(differences),
    rootMeanSquare: Math.sqrt(mean(differences.map((value) => value * value))),
    largest: Math.max(...differences.map(Math.abs)),
  };
}

/**
 * One English sentence that stands beside approximate reliabilities; figures to three places.
 * @example sayReliabilityError({ queens: 24, bias: 0.001, rootMeanSquare: 0.004, largest: 0.012 }).slice(31, 62) // 'in 24 queens worked out exactly'
 */
export const sayReliabilityError = ({ queens, bias, rootMeanSquare, largest }: ReliabilityError): string =>
  `reliabilities are approximate; in ${queens} queens worked out exactly as well they were ${bias >= 0 ? '+' : '−'}${Math.abs(bias).toFixed(3)} away on average, ${rootMeanSquare.toFixed(3)} by root mean square, ${largest.toFixed(3)} at most`;
