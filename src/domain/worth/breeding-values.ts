/**
 * Breeding values of queens: worker effect, queen effect, and what a breeder ranks by, with how sure they are.
 *
 * ```ts
 * const answer = breedingValues(pedigree, records, model, { reliability: 'exact' });
 * answer.queens[0]; // { queen, trait, workerEffect, queenEffect, asMotherOfQueens, asDroneMother, asColony, reliability, … }
 * ```
 *
 * Ranking criteria, d = worker effect, m = queen effect, W = ½Q + S her workers (and the mean of her daughters):
 * - as mother of queens `w_d + w_m`: what daughters raised from her would be worth;
 * - as drone mother `u_d + u_m`: her drones pass on half of it;
 * - as colony `u_m + w_d`: why this colony performed as it did.
 * `reliability` is that of the worth as mother of queens: 1 − error variance / genetic variance.
 */
import { correctedInverse } from '#numeric/mixed/corrected-inverse.ts';
import { assemble, directPattern, factorDirect, invertDirect } from '#numeric/mixed/direct.ts';
import { workersRelationshipAt } from '../pedigree/kinship.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { descentOf } from './descent.ts';
import { type Equations, makeEquations } from './equations.ts';
import { askedSets, eachPairError, exactOver, type InverseOver } from './error-variances.ts';
import { fixedName, type Model } from './model.ts';
import { nearOver } from './near-inverse.ts';
import type { Records } from './records.ts';
import { type Solutions, type SolveOptions, solveEquations } from './solve-equations.ts';

export type ReliabilityKind = 'exact' | 'approximate' | 'none';

/** Exact reliabilities up to this many queens, unless asked otherwise. */
export const MOST_FOR_EXACT = 30_000;

export type QueenWorth = {
  queen: string;
  trait: string;
  workerEffect: number;
  queenEffect: number;
  pevWorker: number | null;
  pevQueen: number | null;
  asMotherOfQueens: number;
  asDroneMother: number;
  asColony: number;
  reliability: number | null;
};

export type BreedingValues = {
  fixed: { factor: string; level: string; trait: string; value: number | null }[];
  queens: QueenWorth[];
  pools: { pool: string; trait: string; workerEffect: number; queenEffect: number }[];
  /** How the reliabilities were worked out. */
  reliability: ReliabilityKind;
  iterations: number;
  residual: number;
};

export type BreedingOptions = SolveOptions & { reliability?: ReliabilityKind };

/** Breeding values of every queen, recorded or not, one entry a queen and trait. */
export function breedingValues(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  options: BreedingOptions = {},
): BreedingValues {
  const kind = options.reliability ?? (pedigree.stock.columns.queens <= MOST_FOR_EXACT ? 'exact' : 'approximate');
  const equations = makeEquations(descentOf(pedigree), records, model);
  const solutions = solveEquations(equations, options);
  const certainty = kind === 'none' ? null : certaintyOf(pedigree, equations, kind);
  return {
    fixed: fixedSolutions(records, model, solutions),
    queens: queenWorths(pedigree, model, solutions, certainty),
    pools: poolEffects(pedigree, model, solutions),
    reliability: kind,
    iterations: solutions.iterations,
    residual: solutions.residual,
  };
}

function fixedSolutions(records: Records, model: Model, solutions: Solutions): BreedingValues['fixed'] {
  const traits = model.traits.length;
  let before = 0;
  return (records.factors.length === 0 ? [MEAN] : records.factors).flatMap((factor, k) => {
    const entry = model.fixed[k];
    const names = k === 0 ? factor.names : factor.names.slice(1);
    const values = k === 0 ? solutions.leading : solutions.further;
    const from = k === 0 ? 0 : before;
    if (k > 0) before += names.length;
    return names.flatMap((level, i) =>
      model.traits.map((trait, t) => ({
        factor: entry === undefined ? 'mean' : fixedName(entry),
        level,
        trait,
        value: recordedLevel(records, k, { level: k === 0 ? i : i + 1, trait: t, traits })
          ? (values[(from + i) * traits + t] as number)
          : null,
      })),
    );
  });
}

const MEAN = { names: ['mean'], level: new Int32Array(0) };

/** Whether a trait was recorded at a level at all; when not there is nothing to say of it. */
function recordedLevel(
  records: Records,
  factor: number,
  { level, trait, traits }: { level: number; trait: number; traits: number },
): boolean {
  if (traits === 1) return true;
  const levels = records.factors[factor]?.level;
  for (let r = 0; r < records.count; r++) {
    if ((levels === undefined || levels[r] === level) && !Number.isNaN(records.values[r * traits + trait] as number))
      return true;
  }
  return false;
}

/** Error variances of one queen and trait. */
type Certainty = { pevWorker: number; pevQueen: number; reliability: number };
type CertaintyAt = (queen: number, trait: number) => Certainty;

/** The inverse, exactly by factoring the equations or approximately from the incomplete factor. */
function inverseOf(equations: Equations, kind: ReliabilityKind): InverseOver {
  const { system } = equations;
  if (kind === 'approximate') return nearOver(equations, correctedInverse(system));
  const pattern = directPattern(system, { asked: askedSets(equations) });
  assemble(system, pattern);
  return exactOver(equations, invertDirect(factorDirect(pattern)));
}

function certaintyOf(pedigree: Pedigree, equations: Equations, kind: ReliabilityKind): CertaintyAt {
  const { model, system } = equations;
  const traits = model.traits.length;
  const q = system.effects;
  const out = new Float64Array(pedigree.stock.columns.queens * traits * 3);
  eachPairError(equations, inverseOf(equations, kind), (queen, error) => {
    for (let t = 0; t < traits; t++) {
      const at = (queen * traits + t) * 3;
      out[at] = error[2 * t * 2 * q + 2 * t] as number;
      out[at + 1] = error[(2 * t + 1) * 2 * q + 2 * t + 1] as number;
      out[at + 2] = 1 - motherError(error, t, q) / motherVariance(pedigree, model, queen, t);
    }
  });
  return (queen, trait) => {
    const at = (queen * traits + trait) * 3;
    return {
      pevWorker: out[at] as number,
      pevQueen: out[at + 1] as number,
      reliability: Math.max(0, out[at + 2] as number),
    };
  };
}

/** k' C k for k = ½ on both effects of the queen, 1 on both of her pool. */
function motherError(error: Float64Array, t: number, q: number): number {
  const weights = [
    [2 * t, 0.5],
    [2 * t + 1, 0.5],
    [q + 2 * t, 1],
    [q + 2 * t + 1, 1],
  ] as const;
  let sum = 0;
  for (const [i, a] of weights) for (const [j, b] of weights) sum += a * b * (error[i * 2 * q + j] as number);
  return sum;
}

/** k' (G ⊗ A) k for the same k: relationship of her workers' mean with itself, times the variance of both effects together. */
export function motherVariance(pedigree: Pedigree, model: Model, queen: number, t: number): number {
  const q = 2 * model.traits.length;
  const g = (i: number, j: number) => model.G[i * q + j] as number;
  return workersRelationshipAt(pedigree, queen) * (g(2 * t, 2 * t) + 2 * g(2 * t, 2 * t + 1) + g(2 * t + 1, 2 * t + 1));
}

const effect = (solutions: Solutions, node: number, e: number, q: number): number =>
  solutions.effects[node * q + e] as number;

function queenWorths(
  pedigree: Pedigree,
  model: Model,
  solutions: Solutions,
  certainty: CertaintyAt | null,
): QueenWorth[] {
  const q = 2 * model.traits.length;
  const out: QueenWorth[] = [];
  for (let i = 0; i < pedigree.stock.columns.queens; i++) {
    const [node, pool] = [pedigree.queenNode[i] as number, pedigree.carriedNode[i] as number];
    const queen = pedigree.stock.names.queenName(i);
    for (const [t, trait] of model.traits.entries()) {
      const workerEffect = effect(solutions, node, 2 * t, q);
      const queenEffect = effect(solutions, node, 2 * t + 1, q);
      const workers = 0.5 * workerEffect + effect(solutions, pool, 2 * t, q);
      const daughters = 0.5 * queenEffect + effect(solutions, pool, 2 * t + 1, q);
      const sure = certainty?.(i, t);
      out.push({
        queen,
        trait,
        workerEffect,
        queenEffect,
        pevWorker: sure?.pevWorker ?? null,
        pevQueen: sure?.pevQueen ?? null,
        asMotherOfQueens: workers + daughters,
        asDroneMother: workerEffect + queenEffect,
        asColony: queenEffect + workers,
        reliability: sure?.reliability ?? null,
      });
    }
  }
  return out;
}

/** Effects of every pool: those written down by their names, and the open ones of queens about whose mating nothing is written. */
function poolEffects(pedigree: Pedigree, model: Model, solutions: Solutions): BreedingValues['pools'] {
  const q = 2 * model.traits.length;
  const { columns, names } = pedigree.stock;
  const nodes: [string, number][] = Array.from(pedigree.poolNode, (node, p) => [names.poolName(p), node]);
  for (let i = 0; i < columns.queens; i++) {
    if (columns.carries[i] === -1) nodes.push([`semen of ${names.queenName(i)}`, pedigree.carriedNode[i] as number]);
  }
  return nodes.flatMap(([pool, node]) =>
    model.traits.map((trait, t) => ({
      pool,
      trait,
      workerEffect: effect(solutions, node, 2 * t, q),
      queenEffect: effect(solutions, node, 2 * t + 1, q),
    })),
  );
}
