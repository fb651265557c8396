/** One step of the EM algorithm: slow, but it never lowers the likelihood and never leaves the parameter space. */
import { multiply, type Square } from '#numeric/dense/small-matrix.ts';
import type { Equations } from '../equations.ts';
import type { Model } from '../model.ts';
import type { Forms } from './forms.ts';

/**
 * G and R after one EM step from a model, given the score of ℓ there (`∂ℓ = tr(score.G ∂G) + tr(score.R ∂R)`; in squares of the traits' units, as G
 * and R). The new G is what u'A⁻¹u / n is expected to be under the old one, given the records, the new R the same of the residuals
 * (Dempster, Laird and Rubin 1977, J R Stat Soc B 39:1; of mixed models Henderson 1984, ch. 12):
 * `G ← (Û'A⁻¹Û + tr(A⁻¹C))/n`, `R ← (ÊÊ' + tr(WC⁻¹W'))/N`. The score of a covariance matrix Σ of m draws is on the same expectation
 * `½ Σ⁻¹(E − mΣ)Σ⁻¹` (Fisher's identity), so the step is `Σ ← Σ + (2/m) Σ score Σ`: it needs nothing beside the score, and holds with absorbed
 * queens and pools and missing values. m: for G every queen and pool with a variance of its own that bears on a record, absorbed ones with it; for R
 * the records. Where the likelihood itself can be looked at, more damping is the better fall-back ({@link ./maximise.ts}: on 80 climbs, an EM step after
 * the first rejected step took twice as many likelihoods, after the second or later one a few more). Both stay positive definite; an estimated random effect is not among them and stays.
 * @example const [equations, { model }] = [workedEquations(), workedPrepared()];
 * const pattern = directPattern(equations.system);
 * const { score } = derivativesAt(pointAt(equations, pattern, model), pattern);
 * pointAt(equations, pattern, emStep(equations, model, score)).logLikelihood // -9.87987; from -10.33561
 */
export function emStep(equations: Equations, model: Model, score: Forms): Model {
  const { system, absorbedQueen, absorbedPool } = equations;
  const absorbed = (own: Float64Array) => own.reduce((count, value) => count + (value > 0 ? 1 : 0), 0);
  const nodes = system.recursion.size + absorbed(absorbedQueen) + absorbed(absorbedPool);
  return {
    ...model,
    G: moved(model.G, score.G, { size: system.effects, draws: nodes }),
    R: moved(model.R, score.R, { size: system.traits, draws: system.observations.count }),
  };
}

/** Σ + (2/m) Σ S Σ, symmetric. */
function moved(covariance: Square, score: Square, { size, draws }: { size: number; draws: number }): Square {
  const change = multiply(multiply(covariance, score, size), covariance, size);
  return covariance.map((value, k) => {
    const mirrored = (k % size) * size + Math.floor(k / size);
    return value + ((change[k] as number) + (change[mirrored] as number)) / draws;
  });
}
