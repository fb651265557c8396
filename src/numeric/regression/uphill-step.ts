import { choleskyInPlace, type Square, solveCholesky } from '../dense/small-matrix.ts';

/** A step uphill; `isHill`: the surface curves down in every direction here, so the step is Newton's own. */
export type UphillStep = { step: Float64Array; isHill: boolean };

/** A ridge this many times the largest curvature makes any matrix of its size a hill; what is not one then is no matrix of numbers. */
const BEYOND_ALL = 1e6;

/**
 * An uphill step on a log-likelihood: `(C + ρI)⁻¹ s`, Newton's (ρ = 0) where the surface is a hill, else bent towards the steepest slope by the first ρ
 * of 0.001, 0.004, 0.016 … that makes C + ρI positive definite (Levenberg 1944, Q Appl Math 2:164; Nocedal and Wright 2006, section 3.4). `null` where
 * a curvature or slope is not finite: there is no uphill to find.
 * @param curvature `size × size`, the negative second derivatives, symmetric; stays as it is
 * @param slope `size` first derivatives
 * @example uphillStep(Float64Array.of(2), Float64Array.of(1)) // { step: [0.5], isHill: true }
 */
export function uphillStep(curvature: Square, slope: Float64Array): UphillStep | null {
  if (!curvature.every(Number.isFinite) || !slope.every(Number.isFinite)) return null;
  const size = slope.length;
  const most = BEYOND_ALL * curvature.reduce((largest, value) => Math.max(largest, Math.abs(value)), 1);
  for (let ridge = 0; ridge < most; ridge = ridge === 0 ? 1e-3 : ridge * 4) {
    const l = curvature.slice();
    for (let j = 0; j < size; j++) l[j * size + j] = (l[j * size + j] as number) + ridge;
    if (choleskyInPlace(l, size)) return { step: solveCholesky(l, size, slope.slice()), isHill: ridge === 0 };
  }
  return null;
}
