/** Two counts of one sample, one in each half of the chamber. `limit` is the largest difference that chance explains. */
export type ChamberCheck = { difference: number; limit: number; agree: boolean };

/**
 * Whether two counts of one sample agree: |a − b| ≤ 2√(a + b), about 95 % of pairs by chance alone (Poisson; common practice).
 * Both zero agree.
 * @example checkTwoChambers(172, 150).agree // true
 */
export function checkTwoChambers(a: number, b: number): ChamberCheck {
  const difference = Math.abs(a - b);
  const limit = 2 * Math.sqrt(a + b);
  return { difference, limit, agree: difference <= limit };
}

/**
 * Your own error of counting, pipetting and filling together, from samples counted twice: √(Σd²/2n) ÷ mean of all counts.
 * null without pairs or when nothing was counted at all.
 * @param pairs two counts of each sample
 * @example duplicateCv([[100, 110], [95, 90]]) // 0.0801
 */
export function duplicateCv(pairs: readonly (readonly [number, number])[]): number | null {
  const sum = pairs.reduce((total, [a, b]) => total + a + b, 0);
  if (pairs.length === 0 || sum === 0) return null;
  const squares = pairs.reduce((total, [a, b]) => total + (a - b) ** 2, 0);
  return Math.sqrt(squares / (2 * pairs.length)) / (sum / (2 * pairs.length));
}
