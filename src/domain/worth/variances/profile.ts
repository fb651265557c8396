/**
 * How well the records know the correlation of worker and queen effect: the likelihood with that correlation held, everything else as likely as it
 * can be. A flat profile says that they do not know it.
 */
import { type DirectPattern, directPattern } from '#numeric/mixed/direct.ts';
import type { Pedigree } from '../../pedigree/laid-pedigree.ts';
import { descentOf } from '../descent.ts';
import { type Equations, makeEquations } from '../equations.ts';
import type { Groups } from '../groups.ts';
import type { Model } from '../model.ts';
import type { Records } from '../records.ts';
import { derivativesAt, pointAt } from './likelihood.ts';
import { dampedStep } from './maximise.ts';

/** The restricted log-likelihood, as likely as everything else can make it, at a held correlation (−1 to 1). */
export type ProfilePoint = { correlation: number; logLikelihood: number };

/** Correlations a profile is worked out at unless others are asked for. */
export const PROFILE_AT: readonly number[] = [-0.95, -0.8, -0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6];

/**
 * Likelihood of one trait of the model, taken on its own, at held correlations. One factorisation and inverse a step, about five steps a point: for
 * stocks whose equations can be factored. Throws when the trait is not in the model.
 * ℓ is the restricted log-likelihood without constant, maximised over the other variances at each correlation (a profile likelihood); between points nothing is said.
 * @example const { pedigree, records, model } = workedPrepared();
 * profileOfCorrelation(pedigree, records, model, { trait: 'honey', at: [-0.5, 0] }).map(({ correlation }) => correlation) // [-0.5, 0]
 */
export function profileOfCorrelation(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  { trait, at = PROFILE_AT, groups }: { trait: string; at?: readonly number[]; groups?: Groups },
): ProfilePoint[] {
  const place = model.traits.indexOf(trait);
  if (place < 0) throw new RangeError(`no trait ${trait} in this model`);
  const alone = traitAlone(model, place);
  const own = recordsOfTrait(records, place, model.traits.length);
  const equations = makeEquations(descentOf(pedigree, groups), own, alone);
  const pattern = directPattern(equations.system);
  let start = deviationsOf(alone);
  return at.map((correlation) => {
    const found = climbHeld(equations, pattern, { correlation, start, model: alone });
    start = found.deviations;
    return { correlation, logLikelihood: found.logLikelihood };
  });
}

/** The model of one of its traits. */
function traitAlone(model: Model, s: number): Model {
  const q = 2 * model.traits.length;
  const block = [0, 1].flatMap((i) => [0, 1].map((j) => model.G[(2 * s + i) * q + 2 * s + j] as number));
  const t = model.traits.length;
  const diagonal = (a: Float64Array) => Float64Array.of(a[s * t + s] as number);
  const random = model.random && {
    random: { effect: model.random.effect, covariance: diagonal(model.random.covariance) },
  };
  return {
    traits: [model.traits[s] as string],
    fixed: model.fixed,
    G: Float64Array.from(block),
    R: diagonal(model.R),
    ...random,
  };
}

/** The records of one trait; rows without it are left out. */
function recordsOfTrait(records: Records, s: number, traits: number): Records {
  const rows: number[] = [];
  for (let r = 0; r < records.count; r++) if (!Number.isNaN(records.values[r * traits + s] as number)) rows.push(r);
  return {
    count: rows.length,
    queen: Int32Array.from(rows, (r) => records.queen[r] as number),
    values: Float64Array.from(rows, (r) => records.values[r * traits + s] as number),
    factors: records.factors.map(({ level, names }) => ({
      level: Int32Array.from(rows, (r) => level[r] as number),
      names,
    })),
  };
}

/** Logarithms of the three standard deviations: worker effect, queen effect, residual. */
type Deviations = readonly [number, number, number];

const deviationsOf = ({ G, R }: Model): Deviations => [
  0.5 * Math.log(G[0] as number),
  0.5 * Math.log(G[3] as number),
  0.5 * Math.log(R[0] as number),
];

function modelAt(model: Model, deviations: Deviations, correlation: number): Model {
  const [worker, queen, residual] = deviations.map(Math.exp) as [number, number, number];
  const both = correlation * worker * queen;
  return { ...model, G: Float64Array.of(worker ** 2, both, both, queen ** 2), R: Float64Array.of(residual ** 2) };
}

type Held = { correlation: number; start: Deviations; model: Model };

const MOST_STEPS = 30;
const ENOUGH = 1e-4;

/** Damped Newton steps in the logarithms of the deviations. */
function climbHeld(
  equations: Equations,
  pattern: DirectPattern,
  { correlation, start, model }: Held,
): { deviations: Deviations; logLikelihood: number } {
  let deviations = start;
  let point = pointAt(equations, pattern, modelAt(model, deviations, correlation));
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS; step++) {
    const { logLikelihood } = point;
    const { score, information } = derivativesAt(point, pattern);
    const slope = slopeHeld(modelAt(model, deviations, correlation), score, information);
    let isHigher = false;
    for (; damping < 1e8 && !isHigher; damping *= 10) {
      const damped = dampedStep(slope, damping);
      if (damped === null) continue;
      if (damped.promised < ENOUGH && damping <= 1) return { deviations, logLikelihood };
      const next = deviations.map((d, k) => d + Math.max(-1, Math.min(1, damped.step[k] as number)));
      const there = pointAt(equations, pattern, modelAt(model, next as unknown as Deviations, correlation));
      if (!(there.logLikelihood > logLikelihood)) continue;
      deviations = next as unknown as Deviations;
      point = there;
      isHigher = true;
    }
    if (!isHigher) return { deviations, logLikelihood };
    damping = Math.max(1e-6, damping / 100);
  }
  return { deviations, logLikelihood: point.logLikelihood };
}

type Derived = ReturnType<typeof derivativesAt>;

/** Gradient and curvature of ℓ in the logarithms of the deviations, the correlation held: the chain rule on (G11, G12, G22, R). */
function slopeHeld({ G, R }: Model, score: Derived['score'], information: Derived['information']) {
  const [worker, both, , queen] = G as unknown as [number, number, number, number];
  const inParameters = [score.G[0] as number, 2 * (score.G[1] as number), score.G[3] as number, score.R[0] as number];
  // rows: worker, queen, residual; columns: G11, G12, G22, R
  const jacobian = [
    [2 * worker, both, 0, 0],
    [0, both, 2 * queen, 0],
    [0, 0, 0, 2 * (R[0] as number)],
  ];
  const sum = (f: (k: number) => number) => [0, 1, 2, 3].reduce((total, k) => total + f(k), 0);
  const gradient = Float64Array.from(jacobian, (row) => sum((k) => (row[k] as number) * (inParameters[k] as number)));
  const curvature = Float64Array.from({ length: 9 }, (_, at) => {
    const [a, b] = [jacobian[Math.floor(at / 3)] as number[], jacobian[at % 3] as number[]];
    return sum((k) => sum((l) => (a[k] as number) * (information[k * 4 + l] as number) * (b[l] as number)));
  });
  return { gradient, curvature };
}
