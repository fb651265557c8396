/** The restricted likelihood of an evaluation and its derivatives, exactly. */
import { choleskyInPlace, logDeterminant } from '#numeric/dense/small-matrix.ts';
import { assemble, type DirectPattern, factorDirect, invertDirect } from '#numeric/mixed/direct.ts';
import { type Project, type Projected, projectDirectly } from '#numeric/mixed/projection.ts';
import { classesOf } from '#numeric/mixed/system.ts';
import type { SupernodalFactor } from '#numeric/sparse/supernodal-factor.ts';
import { type Equations, reweigh } from '../equations.ts';
import type { Model } from '../model.ts';
import { expectedForms, type Forms, parametersOf, quadraticForms, workingVector } from './forms.ts';

/** A point of the likelihood, with what is needed to work out derivatives there. */
export type Point = {
  equations: Equations;
  factor: SupernodalFactor;
  projected: Projected;
  project: Project;
  /** ℓ = −½(log|V| + log|X'V⁻¹X| + y'Py), X one column for each level but the first of the further effects. */
  logLikelihood: number;
};

/**
 * ℓ at the given G and R (positive definite), by one factorisation of the equations: log|V| + log|X'V⁻¹X| = log|R| + k Σ log d + n log|G| + log|C|, and
 * y'Py from the solution (Patterson and Thompson 1971, Biometrika 58:545; Meyer 1989, Genet Sel Evol 21:317). Columns of X that depend on others are left out;
 * no constant. The pattern's factor is overwritten by the next point.
 * @example const equations = workedEquations();
 * pointAt(equations, directPattern(equations.system), workedPrepared().model).logLikelihood // -10.335611729
 */
export function pointAt(equations: Equations, pattern: DirectPattern, model: Model): Point {
  const here = reweigh(equations, model);
  const { system } = here;
  assemble(system, pattern);
  const factor = factorDirect(pattern);
  const project = projectDirectly(system, pattern, factor);
  const projected = project(system.observations.y);
  const q = system.effects;
  const l = model.G.slice();
  choleskyInPlace(l, q);
  let logOwn = 0;
  for (const own of system.recursion.own) logOwn += Math.log(own);
  const logPrior = system.recursion.size * logDeterminant(l, q) + q * logOwn + logRandom(here);
  const form = projected.weighted.reduce((sum, s, k) => sum + s * (system.observations.y[k] as number), 0);
  const logLikelihood = -0.5 * (here.logResidual + logPrior + factor.logDeterminant + form);
  return { equations: here, factor, projected, project, logLikelihood };
}

/** Log-determinant of the covariance of all levels of the random effect; 0 without one. */
function logRandom({ system, model }: Equations): number {
  if (model.random === undefined) return 0;
  const l = model.random.covariance.slice();
  choleskyInPlace(l, system.traits);
  return classesOf(system) * logDeterminant(l, system.traits);
}

/** Derivatives of ℓ: `∂ℓ = tr(score.G ∂G) + tr(score.R ∂R)`, and the average information between the parameters. */
export type Derivatives = { score: Forms; information: Float64Array };

/**
 * Score ½(Q − M) and average information at a point, exactly; G and R parts of the score are symmetric, an off-diagonal element of G or R moves ℓ by
 * twice its entry. Uses the factor up: no more projections afterwards.
 * @example const equations = workedEquations(); const pattern = directPattern(equations.system);
 * derivativesAt(pointAt(equations, pattern, workedPrepared().model), pattern).score.R // [0.1430672]
 */
export function derivativesAt(point: Point, pattern: DirectPattern): Derivatives {
  const information = averageInformation(point.equations, point.projected, point.project);
  const expected = expectedForms(point.equations, pattern, invertDirect(point.factor));
  return { score: halfDifference(quadraticForms(point.equations, point.projected), expected), information };
}

/**
 * The score from the forms found and those expected, ½(Q − M), in the places of G and R.
 * @example halfDifference({ G: Float64Array.of(6, 2, 2, 4), R: Float64Array.of(3) }, { G: Float64Array.of(4, 0, 0, 4), R: Float64Array.of(1) }).G // [1, 1, 1, 0]
 */
export function halfDifference(found: Forms, expected: Forms): Forms {
  const half = (a: Float64Array, b: Float64Array) => a.map((value, k) => 0.5 * (value - (b[k] as number)));
  return { G: half(found.G, expected.G), R: half(found.R, expected.R) };
}

/**
 * Average information between the parameters, n × n row by row in the order of `parametersOf`: ½ f_i' P f_j, f the working vectors, one solve each
 * (Johnson and Thompson 1995, J Dairy Sci 78:449; Gilmour, Thompson and Cullis 1995, Biometrics 51:1440).
 * @example const equations = workedEquations();
 * const { projected, project } = pointAt(equations, directPattern(equations.system), workedPrepared().model);
 * averageInformation(equations, projected, project)[15] // 0.022573860
 */
export function averageInformation(equations: Equations, projected: Projected, project: Project): Float64Array {
  const parameters = parametersOf(equations.system.traits);
  const f = parameters.map((parameter) => workingVector(equations, projected, parameter));
  const n = f.length;
  const out = new Float64Array(n * n);
  for (const [j, vector] of f.entries()) {
    const { weighted } = project(vector);
    for (let i = 0; i <= j; i++) {
      const value = 0.5 * (f[i] as Float64Array).reduce((sum, x, k) => sum + x * (weighted[k] as number), 0);
      out[i * n + j] = value;
      out[j * n + i] = value;
    }
  }
  return out;
}
