/** One step of thinning: µl taken over, and µl of diluent it was put into. */
export type DilutionStep = { transferred: number; diluent: number };

/**
 * By how much a chain of dilutions thinned the sample, ≥ 1: the product of (transferred + diluent) ÷ transferred.
 * No step at all is 1. Throws when nothing was transferred or a volume is negative.
 * @example dilutionFactor([{ transferred: 10, diluent: 90 }, { transferred: 50, diluent: 50 }]) // 20
 */
export function dilutionFactor(steps: readonly DilutionStep[]): number {
  return steps.reduce((factor, { transferred, diluent }) => {
    if (!(transferred > 0 && diluent >= 0)) throw new RangeError(`not a dilution: ${transferred} into ${diluent}`);
    return (factor * (transferred + diluent)) / transferred;
  }, 1);
}
