import type { CountChances } from './count-chances.ts';
import type { Nodes } from './factor-product.ts';
import { incompleteGammaAbove } from './incomplete-gamma.ts';

/** What each of a counted lot brings: gamma distributed with this coefficient of variation, and a mean that is in doubt but the same for all. */
export type EachBrings = { mean: Nodes; variation: number };

/** Chance that k pieces of mean `mean` bring at least `wanted`: their sum is again a gamma, with k times the shape. */
function sumAtLeast(wanted: number, k: number, mean: number, variation: number): number {
  if (wanted <= 0) return 1;
  if (k === 0 || mean === 0) return 0;
  if (variation === 0) return k * mean >= wanted * (1 - 1e-12) ? 1 : 0;
  const shape = 1 / (variation * variation);
  return incompleteGammaAbove(k * shape, (wanted * shape) / mean);
}

const SURE = 1e-12;

/**
 * For k = 0 … `most`: the chance that k pieces bring at least `wanted` together. Rises with k; exact for each node of the mean. Worked out once, it
 * serves every number that may be begun with.
 */
export function reachByCount(wanted: number, most: number, each: EachBrings): Float64Array {
  const reach = new Float64Array(most + 1);
  each.mean.weights.forEach((weight, i) => {
    const mean = each.mean.values[i] ?? 0;
    // Below and above the few counts that matter the chance is 0 or 1; walk down from the middle and up to where it is sure.
    const middle = mean > 0 ? Math.min(most, Math.floor(wanted / mean)) : most;
    for (let k = middle; k >= 0; k--) {
      const chance = sumAtLeast(wanted, k, mean, each.variation);
      if (chance < SURE) break;
      reach[k] = (reach[k] ?? 0) + weight * chance;
    }
    let sure = false;
    for (let k = middle + 1; k <= most; k++) {
      const chance: number = sure ? 1 : sumAtLeast(wanted, k, mean, each.variation);
      sure = chance > 1 - SURE;
      reach[k] = (reach[k] ?? 0) + weight * chance;
    }
  });
  return reach;
}

/** The chance that a doubtful count of pieces reaches what `reach` (of {@link reachByCount}) was worked out for. */
export function amountAtLeast(reach: Float64Array, counts: CountChances): number {
  let sum = 0;
  for (let k = 0; k < counts.length; k++) sum += (counts[k] ?? 0) * (reach[Math.min(k, reach.length - 1)] ?? 0);
  return Math.min(1, sum);
}

/** Amounts reached with each of the chances asked for, falling chances giving rising amounts: by halving, to a thousandth of the mean. */
export function amountQuantiles(chances: readonly number[], counts: CountChances, each: EachBrings): number[] {
  const reached = (wanted: number) => amountAtLeast(reachByCount(wanted, counts.length - 1, each), counts);
  const most = (counts.length - 1) * Math.max(...each.mean.values) * (1 + 3 * each.variation);
  const curve = curveOf(reached, most);
  return chances.map((chance) => readCurve(curve, chance));
}

type Curve = { amounts: number[]; reached: number[] };

/** The falling curve of chances over amounts, halved where it is steep: about 60 points hold it to a third of a per cent. */
function curveOf(reached: (wanted: number) => number, most: number): Curve {
  const points = new Map<number, number>([
    [0, 1],
    [most, reached(most)],
  ]);
  const halve = (low: number, high: number, depth: number) => {
    const fall = (points.get(low) ?? 0) - (points.get(high) ?? 0);
    if (depth === 0 || fall < 0.02) return;
    const middle = (low + high) / 2;
    points.set(middle, reached(middle));
    halve(low, middle, depth - 1);
    halve(middle, high, depth - 1);
  };
  halve(0, most, 16);
  const amounts = [...points.keys()].sort((a, b) => a - b);
  return { amounts, reached: amounts.map((amount) => points.get(amount) ?? 0) };
}

/** The largest amount still reached with that chance, between two points of the curve. */
function readCurve({ amounts, reached }: Curve, chance: number): number {
  const after = reached.findIndex((sure) => sure < chance);
  if (after === -1) return amounts.at(-1) ?? 0;
  if (after === 0) return 0;
  const [high, low] = [reached[after - 1] ?? 1, reached[after] ?? 0];
  const [from, to] = [amounts[after - 1] ?? 0, amounts[after] ?? 0];
  return from + ((high - chance) / (high - low)) * (to - from);
}
