/**
 * Variances estimated from a stock's own records by restricted maximum likelihood, with their standard errors and whether the records can
 * carry them at all.
 *
 * ```ts
 * const answer = estimateVariances(pedigree, records, model);
 * answer.usable; // false: keep published variances; answer.warnings says why
 * ```
 */
import { inverseOf } from '#numeric/dense/small-matrix.ts';
import { directPattern } from '#numeric/mixed/direct.ts';
import type { Pedigree } from '../../pedigree/laid-pedigree.ts';
import { descentOf } from '../descent.ts';
import { type Equations, makeEquations } from '../equations.ts';
import type { Groups } from '../groups.ts';
import type { Model } from '../model.ts';
import type { Records } from '../records.ts';
import { approach } from './approach.ts';
import { type VarianceWarning, warningsOf } from './carried.ts';
import { type Correlated, correlationsOf } from './correlations.ts';
import { parametersOf } from './forms.ts';
import { DEFINITION, type Heritability, heritabilities } from './heritability.ts';
import { pointAt } from './likelihood.ts';
import { type Maximum, maximise } from './maximise.ts';

/**
 * G (2t × 2t) and R (t × t) as lists of rows, in squares of the records' units, and whether they should be used (`usable`: the search ended by
 * itself and no warning decides against it).
 */
export type Variances = {
  G: number[][];
  R: number[][];
  /** In the places of G and R; null where the records say nothing. */
  standardErrors: { G: (number | null)[][]; R: (number | null)[][] };
  /** Of every pair of effects and of residuals, with standard errors, in the places of G and R. */
  correlations: Correlated;
  /** null where the equations were too large to factor. */
  logLikelihood: number | null;
  /** null when nothing was maximised. */
  converged: boolean | null;
  usable: boolean;
  heritability: { definition: string; traits: Record<string, Heritability> };
  warnings: VarianceWarning[];
  iterations: number;
};

const rows = (a: Float64Array, size: number): number[][] =>
  Array.from({ length: size }, (_, i) => [...a.subarray(i * size, (i + 1) * size)]);

const blank = (size: number): (number | null)[][] =>
  Array.from({ length: size }, () => Array<number | null>(size).fill(null));

function standardErrors(information: Float64Array, traits: number): Variances['standardErrors'] {
  const parameters = parametersOf(traits);
  const n = parameters.length;
  const out = { G: blank(2 * traits), R: blank(traits) };
  const inverse = inverseOf(information, n);
  for (const [k, { of, row, column }] of parameters.entries()) {
    const variance = inverse?.[k * n + k];
    const error = variance === undefined || !(variance > 0) ? null : Math.sqrt(variance);
    for (const [i, j] of [
      [row, column],
      [column, row],
    ] as const)
      (out[of][i] as (number | null)[])[j] = error;
  }
  return out;
}

/**
 * The likelihood at the model's own G and R, nothing maximised: ℓ = −½(log|V| + log|X'V⁻¹X| + y'Py) without constant. Standard errors are null.
 * @example const { pedigree, records, model } = workedPrepared();
 * likelihoodAtStart(pedigree, records, model).logLikelihood // -10.335611729
 */
export function likelihoodAtStart(pedigree: Pedigree, records: Records, model: Model, groups?: Groups): Variances {
  const equations = makeEquations(descentOf(pedigree, groups), records, model);
  const pattern = directPattern(equations.system);
  const { logLikelihood } = pointAt(equations, pattern, model);
  const t = model.traits.length;
  return {
    G: rows(model.G, 2 * t),
    R: rows(model.R, t),
    standardErrors: { G: blank(2 * t), R: blank(t) },
    correlations: correlationsOf(model, t),
    logLikelihood,
    converged: null,
    usable: true,
    heritability: { definition: DEFINITION, traits: heritabilities(pedigree, records, model) },
    warnings: [],
    iterations: 0,
  };
}

/** Factorisations up to this many operations are done at every step of the search; beyond, sampled steps come first, or stand alone. */
const FEW_OPERATIONS = 2e8;
const MOST_OPERATIONS = 2.5e10;

type Search = { maximum: Omit<Maximum, 'logLikelihood'> & { logLikelihood: number | null }; sampled: boolean };

/** Exactly where the equations can be factored; after a sampled approach where that takes long; by sampling alone where it takes too long. */
function search(equations: Equations, model: Model, options: EstimateOptions): Search {
  const pattern = directPattern(equations.system);
  const { flops } = pattern.matrix.supernodes;
  let drawn = 0;
  const { progress } = options;
  const whileDrawing = progress && { progress: () => progress(++drawn, null) };
  const report = progress && {
    progress: (iteration: number, logLikelihood: number) => progress(drawn + iteration, logLikelihood),
  };
  if (flops <= (options.fewOperations ?? FEW_OPERATIONS))
    return { maximum: maximise(equations, pattern, model, report), sampled: false };
  const seed = options.seed ?? 1;
  const far = approach(equations, model, { seed, draws: 20, mostIterations: 12, tolerance: 0.5, ...whileDrawing });
  const near = approach(equations, far.model, {
    seed,
    draws: 80,
    mostIterations: 1,
    tolerance: 0.02,
    endsBlind: true,
    ...whileDrawing,
  });
  if (flops <= (options.mostOperations ?? MOST_OPERATIONS)) {
    return {
      maximum: maximise(equations, pattern, near.model, { ...report, tolerance: 1e-4, lastPromise: 0.2 }),
      sampled: false,
    };
  }
  const last = approach(equations, near.model, {
    seed,
    draws: options.draws ?? 600,
    mostIterations: 6,
    tolerance: 2e-3,
    ...whileDrawing,
  });
  return { maximum: { ...last, information: last.derivatives.information, logLikelihood: null }, sampled: true };
}

/** How to search; see {@link estimateVariances}. `draws` default to 600 where the equations are too large to factor. */
export type EstimateOptions = {
  /** Seed of the draws, for stocks too large to factor; default 1. */
  seed?: number;
  draws?: number;
  /** Largest factorisation done at every step from the start, and largest done at all, in operations. */
  fewOperations?: number;
  mostOperations?: number;
  /** Called after every iteration, with ℓ where it is worked out and null while steps rest on drawn values; `false` stops the stage under way. */
  progress?: (iteration: number, logLikelihood: number | null) => boolean | undefined;
  groups?: Groups;
};

/**
 * The G and R under which the records are likeliest, climbing from the model's own, with standard errors from the inverse of the average information, and
 * everything that speaks against using them. Exact where the equations can be factored; beyond, drawn (`sampled` among the warnings, ℓ null). It always
 * answers, also from few records: `usable` says whether to believe it. Throws where the model's own G or R is not positive definite.
 * @example const { pedigree, records, model } = workedPrepared();
 * const { usable, warnings } = estimateVariances(pedigree, records, model);
 * [usable, warnings[0].code] // [false, 'too-few-records']
 */
export function estimateVariances(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  options: EstimateOptions = {},
): Variances {
  const equations = makeEquations(descentOf(pedigree, options.groups), records, model);
  const { maximum, sampled } = search(equations, model, options);
  const t = model.traits.length;
  const errors = standardErrors(maximum.information, t);
  const warnings = warningsOf({ pedigree, records, maximum, errors });
  if (sampled) warnings.push(SAMPLED);
  return {
    G: rows(maximum.model.G, 2 * t),
    R: rows(maximum.model.R, t),
    standardErrors: errors,
    correlations: correlationsOf(maximum.model, t, maximum.information),
    logLikelihood: maximum.logLikelihood,
    converged: maximum.converged,
    usable: maximum.converged && warnings.every((warning) => !warning.decides),
    heritability: { definition: DEFINITION, traits: heritabilities(pedigree, records, maximum.model) },
    warnings,
    iterations: maximum.iterations,
  };
}

const SAMPLED: VarianceWarning = {
  code: 'sampled',
  text: 'the stock is too large to factor: the search rested on drawn values, and the likelihood itself was not worked out',
  decides: false,
};
