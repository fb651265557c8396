/**
 * Breeding values of queens: worker effect, queen effect, and what a breeder ranks by, with how sure they are.
 *
 * Ranking criteria, d = worker effect, m = queen effect, W = ½Q + S her workers (and the mean of her daughters):
 * - as mother of queens `w_d + w_m`: what daughters raised from her would be worth;
 * - as drone mother `u_d + u_m`: her drones pass on half of it;
 * - as colony `u_m + w_d`: why this colony performed as it did.
 * `reliability` is that of the worth as mother of queens: 1 − error variance / genetic variance.
 */
import { correctedInverse } from '#numeric/mixed/corrected-inverse.ts';
import { assemble, directPattern, factorDirect, invertDirect } from '#numeric/mixed/direct.ts';
import { makeWalk, seed, settle } from '#numeric/recursion/recursion.ts';
import { workersRelationships } from '../pedigree/kinship.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { combinationOf } from './criteria.ts';
import { descentOf } from './descent.ts';
import { type Equations, furtherEffects, makeEquations } from './equations.ts';
import { askedSets, eachPairError, exactOver, type InverseOver } from './error-variances.ts';
import type { Groups } from './groups.ts';
import { effectsOf, fixedName, type Model } from './model.ts';
import { nearOver } from './near-inverse.ts';
import type { Records } from './records.ts';
import { type ReliabilityError, reliabilityError } from './reliability-error.ts';
import { type Solutions, type SolveOptions, solveEquations } from './solve-equations.ts';

/** How reliabilities are worked out, or that they are not. */
export type ReliabilityKind = 'exact' | 'approximate' | 'none';

/** Exact reliabilities up to this many queens, unless asked otherwise. */
export const MOST_FOR_EXACT = 30_000;

/**
 * One queen and trait: effects and criteria in the trait's unit, prediction error variances (`pev…`) in its square, reliability 0-1; null where not
 * worked out.
 */
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

/** Solutions in the traits' units, by queen, pool, level and group; how many iterations they took and the relative residual reached. */
export type BreedingValues = {
  fixed: { factor: string; level: string; trait: string; value: number | null }[];
  /** Levels of the random effect, drawn towards 0; empty without one. */
  random: BreedingValues['fixed'];
  /** Genetic groups, on the scale of queens; empty without them. */
  groups: { group: string; trait: string; workerEffect: number; queenEffect: number }[];
  queens: QueenWorth[];
  pools: { pool: string; trait: string; workerEffect: number; queenEffect: number }[];
  /** How the reliabilities were worked out. */
  reliability: ReliabilityKind;
  /** How far approximate reliabilities are from exact ones in some queens worked out both ways; null for exact ones and for none. */
  reliabilityError: ReliabilityError | null;
  iterations: number;
  residual: number;
};

/** How to solve; `reliability` is exact up to {@link MOST_FOR_EXACT} queens and approximate beyond when left out. */
export type BreedingOptions = SolveOptions & { reliability?: ReliabilityKind; groups?: Groups };

/** {@link BreedingValues} with queens and pools told one by one as they are asked for, for stocks whose entries would not fit into memory. */
export type BreedingValuesOneByOne = Omit<BreedingValues, 'queens' | 'pools'> & {
  queens: Iterable<QueenWorth>;
  pools: Iterable<BreedingValues['pools'][number]>;
};

/**
 * Breeding values of every queen, recorded or not: one entry a queen and trait (the traits of a queen side by side), in the trait's unit, deviations from the
 * founders' mean 0; error variances in its square, reliabilities 0-1. Best linear unbiased prediction under the model's variances (Henderson 1975, Biometrics
 * 31:423; for colonies Bienefeld and others 2007, Apidologie 38:77). With genetic groups every value holds the part of its group. A queen without records,
 * relatives or own group is worth 0 with reliability 0. G and R must be positive definite and records fit the model ({@link ./evaluation-input.ts} sees to
 * both); nothing is checked again here.
 * @example const { pedigree, records, model } = workedPrepared();
 * breedingValues(pedigree, records, model).queens[0] // { queen: 'A', workerEffect: 0.29749, queenEffect: 0.89248, asMotherOfQueens: 1.13045 }
 */
export function breedingValues(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  options: BreedingOptions = {},
): BreedingValues {
  const answer = breedingValuesOneByOne(pedigree, records, model, options);
  return { ...answer, queens: [...answer.queens], pools: [...answer.pools] };
}

/**
 * {@link breedingValues} without holding an entry a queen: `queens` and `pools` can be gone through as often as wanted. Ten million queens with as many records
 * need about 6 GB so, most of it outside the heap of the language.
 * @example const { pedigree, records, model } = workedPrepared();
 * [...breedingValuesOneByOne(pedigree, records, model).queens][0] // { queen: 'A', workerEffect: 0.29749, queenEffect: 0.89248, asMotherOfQueens: 1.13045 }
 */
export function breedingValuesOneByOne(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  options: BreedingOptions = {},
): BreedingValuesOneByOne {
  const kind = options.reliability ?? (pedigree.stock.columns.queens <= MOST_FOR_EXACT ? 'exact' : 'approximate');
  const equations = makeEquations(descentOf(pedigree, options.groups), records, model);
  const solutions = solveEquations(equations, options);
  const certainty = kind === 'none' ? null : certaintyOf(pedigree, equations, kind);
  const evaluated = { pedigree, equations, solutions };
  return {
    ...effectLevels(records, model, solutions),
    groups: groupEffects(evaluated, options.groups),
    queens: { [Symbol.iterator]: () => queenWorths(evaluated, certainty) },
    pools: { [Symbol.iterator]: () => poolEffects(evaluated) },
    reliability: kind,
    reliabilityError:
      certainty === null || kind !== 'approximate'
        ? null
        : reliabilityError(equations, records, {
            combinations: model.traits.map((_, s) =>
              combinationOf(
                'mother',
                model.traits.map((_other, u) => (u === s ? 1 : 0)),
              ),
            ),
            approximate: (queen, trait) => certainty(queen, trait).reliability,
          }),
    iterations: solutions.iterations,
    residual: solutions.residual,
  };
}

type LevelValue = BreedingValues['fixed'][number];

/**
 * Solutions of the fixed effects, and of the random one, by level and trait, in the trait's unit. Levels that were left out because another effect holds them
 * (the first of each further fixed one, which counts as 0) are not told; null where the trait was not recorded at the level. Beside a random effect without
 * fixed ones the general mean is called `mean`. Both lists come empty where the model has no such effect.
 * @example const { records, model } = workedPrepared();
 * effectLevels(records, model, solveEquations(workedEquations())).fixed[0] // { factor: 'yard:year', level: '1:2025', value: 40.9456 }
 */
export function effectLevels(
  records: Records,
  model: Model,
  solutions: Solutions,
): Pick<BreedingValues, 'fixed' | 'random'> {
  const { fixed, random } = standings(records, model, solutions);
  const valuesOf = (standing: Standing) => levelValues(standing, records, model);
  return { fixed: fixed.flatMap(valuesOf), random: random.flatMap(valuesOf) };
}

/** One effect with where its solutions stand: `from` levels into the leading or the further ones. */
type Standing = {
  factor: string;
  level: Int32Array;
  names: readonly string[];
  leftOut: number;
  values: Float64Array;
  from: number;
};

function standings(records: Records, model: Model, solutions: Solutions): { random: Standing[]; fixed: Standing[] } {
  const called = (entry: readonly string[] | undefined) => (entry === undefined ? 'mean' : fixedName(entry));
  const first = records.factors[0] ?? { level: new Int32Array(records.count), names: ['mean'] };
  const leading = { factor: called(effectsOf(model)[0]), ...first, leftOut: 0, values: solutions.leading, from: 0 };
  let from = 0;
  const further = furtherEffects(records, model).map((effect, k): Standing => {
    const standing = { factor: called(effectsOf(model)[k + 1]), ...effect, values: solutions.further, from };
    from += Math.max(0, effect.names.length - effect.leftOut);
    return standing;
  });
  return model.random === undefined
    ? { random: [], fixed: [leading, ...further] }
    : { random: [leading], fixed: further };
}

function levelValues(standing: Standing, records: Records, model: Model): LevelValue[] {
  const { factor, level: levelOf, names, leftOut, values, from } = standing;
  const traits = model.traits.length;
  const isRecorded = recordedLevels(records, { level: levelOf, levels: names.length, traits });
  return names.slice(leftOut).flatMap((level, i) =>
    model.traits.map((trait, t) => ({
      factor,
      level,
      trait,
      value: isRecorded[(i + leftOut) * traits + t] === 1 ? (values[(from + i) * traits + t] as number) : null,
    })),
  );
}

/** 1 where a trait was recorded at a level at all (`levels × traits`); where not there is nothing to say of it. */
function recordedLevels(
  records: Records,
  { level, levels, traits }: { level: Int32Array; levels: number; traits: number },
): Uint8Array {
  const out = new Uint8Array(levels * traits);
  for (let r = 0; r < records.count; r++) {
    for (let t = 0; t < traits; t++)
      if (!Number.isNaN(records.values[r * traits + t] as number)) out[(level[r] as number) * traits + t] = 1;
  }
  return out;
}

/** Error variances of one queen and trait. */
type Certainty = { pevWorker: number; pevQueen: number; reliability: number };
type CertaintyAt = (queen: number, trait: number) => Certainty;

/**
 * The inverse of the equations' matrix over what one queen's errors rest on, in squares of the traits' units: exactly, by factoring all equations once
 * (selected inverse), or approximately from the incomplete factor ({@link nearOver}) where `kind` is `approximate`; any other kind gives the exact one. Read
 * with {@link eachPairError}.
 * @example const equations = workedEquations(); const pevWorker = [];
 * eachPairError(equations, inverseOf(equations, 'exact'), (_, error) => pevWorker.push(error[0]));
 * pevWorker.slice(0, 2) // [5.95748, 5.95366]
 */
export function inverseOf(equations: Equations, kind: ReliabilityKind): InverseOver {
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
  const spread = workersSpread(pedigree, equations);
  const out = new Float64Array(pedigree.stock.columns.queens * traits * 3);
  eachPairError(equations, inverseOf(equations, kind), (queen, error) => {
    for (let t = 0; t < traits; t++) {
      const at = (queen * traits + t) * 3;
      out[at] = error[2 * t * 2 * q + 2 * t] as number;
      out[at + 1] = error[(2 * t + 1) * 2 * q + 2 * t + 1] as number;
      out[at + 2] = 1 - motherError(error, t, q) / (spread(queen) * bothVariance(model, t));
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

/** Variance of worker and queen effect together. */
function bothVariance({ G, traits }: Model, t: number): number {
  const q = 2 * traits.length;
  const g = (i: number, j: number) => G[(2 * t + i) * q + 2 * t + j] as number;
  return g(0, 0) + 2 * g(0, 1) + g(1, 1);
}

/** `k'Ak` for the mean of a queen's workers, k = ½ her and 1 her pool; with what genetic groups add. */
function workersSpread(pedigree: Pedigree, { descent }: Equations): (queen: number) => number {
  if (descent.groups === 0) {
    const all = workersRelationships(pedigree);
    return (queen) => all[queen] as number;
  }
  const walk = makeWalk(descent.full);
  return (queen) => {
    seed(walk, descent.queenRow[queen] as number, 0.5, 0.5);
    seed(walk, descent.carriedRow[queen] as number, 1, 1);
    return settle(walk);
  };
}

const effect = (solutions: Solutions, node: number, e: number, q: number): number =>
  solutions.effects[node * q + e] as number;

type Evaluated = { pedigree: Pedigree; equations: Equations; solutions: Solutions };

function groupEffects({ equations, solutions }: Evaluated, groups: Groups | undefined): BreedingValues['groups'] {
  const { effects: q } = equations.system;
  return (groups?.names ?? []).flatMap((group, row) =>
    equations.model.traits.map((trait, t) => ({
      group,
      trait,
      workerEffect: effect(solutions, row, 2 * t, q),
      queenEffect: effect(solutions, row, 2 * t + 1, q),
    })),
  );
}

function* queenWorths(
  { pedigree, equations, solutions }: Evaluated,
  certainty: CertaintyAt | null,
): Generator<QueenWorth> {
  const { model, descent } = equations;
  const q = 2 * model.traits.length;
  for (let i = 0; i < pedigree.stock.columns.queens; i++) {
    const [node, pool] = [descent.queenRow[i] as number, descent.carriedRow[i] as number];
    const queen = pedigree.stock.names.queenName(i);
    for (const [t, trait] of model.traits.entries()) {
      const workerEffect = effect(solutions, node, 2 * t, q);
      const queenEffect = effect(solutions, node, 2 * t + 1, q);
      const workers = 0.5 * workerEffect + effect(solutions, pool, 2 * t, q);
      const daughters = 0.5 * queenEffect + effect(solutions, pool, 2 * t + 1, q);
      const sure = certainty?.(i, t);
      yield {
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
      };
    }
  }
}

/** Effects of every pool: those written down by their names, and the open ones of queens about whose mating nothing is written. */
function* poolEffects({ pedigree, equations, solutions }: Evaluated): Generator<BreedingValues['pools'][number]> {
  const { model, descent } = equations;
  const q = 2 * model.traits.length;
  const { columns, names } = pedigree.stock;
  const told = (pool: string, node: number) =>
    model.traits.map((trait, t) => ({
      pool,
      trait,
      workerEffect: effect(solutions, node, 2 * t, q),
      queenEffect: effect(solutions, node, 2 * t + 1, q),
    }));
  for (const [p, row] of descent.poolRow.entries()) yield* told(names.poolName(p), row);
  for (let i = 0; i < columns.queens; i++)
    if (columns.carries[i] === -1) yield* told(`semen of ${names.queenName(i)}`, descent.carriedRow[i] as number);
}
