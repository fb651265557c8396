/**
 * One call from records to everything a page shows of worth: what every queen is worth by each criterion, how sure that is, the index, the trend, and
 * whether the yards can be compared at all.
 */
import type { Assumption } from '../pedigree/assumption.ts';
import { assumptionsOf } from '../pedigree/pedigree.ts';
import { effectLevels, inverseOf, MOST_FOR_EXACT, type ReliabilityKind } from './breeding-values.ts';
import { type Connectedness, connectedness } from './connectedness.ts';
import { type Criterion, combinationOf, criteria, eachSureness, type Sureness } from './criteria.ts';
import { descentOf } from './descent.ts';
import { type Equations, makeEquations } from './equations.ts';
import { type EvaluationInput, type EvaluationProblem, type Prepared, prepareEvaluation } from './evaluation-input.ts';
import { type ReliabilityError, reliabilityError } from './reliability-error.ts';
import { type Solutions, solveEquations } from './solve-equations.ts';
import { type TrendYear, trendOfYears } from './trend.ts';

/**
 * What a queen is worth by one criterion, in the trait's unit, with the standard deviation of its error; `null` where reliabilities were not wanted.
 */
export type Worth = { value: number; error: number | null; reliability: number | null };
/** A queen's worth by every criterion. */
export type WorthByCriterion = Readonly<Record<Criterion, Worth>>;

/** One queen; `year` is that of her birth, null where it is not known. */
export type EvaluatedQueen = {
  id: string;
  code: string;
  year: number | null;
  /** Records of her own colony. */
  records: number;
  /** By trait. */
  worth: Readonly<Record<string, WorthByCriterion>>;
  /** Σ weight · worth; `null` without weights. */
  index: WorthByCriterion | null;
};

/** Something a reader has to know beside the answer, with the names and counts it speaks of. */
export type EvaluationWarning = {
  code: 'alone' | 'not-joined' | 'small-groups' | 'few-records';
  values: Record<string, string | number>;
};

/**
 * The answer: values and errors in the traits' units, reliabilities 0-1; how many iterations the solving took and the relative residual it reached.
 */
export type Evaluation = {
  problems: [];
  traits: readonly string[];
  /** How the reliabilities were worked out. */
  reliability: ReliabilityKind;
  /** How far approximate reliabilities are from exact ones in some queens of this stock, by criterion; `null` for exact ones and for none. */
  reliabilityError: Readonly<Record<Criterion, ReliabilityError>> | null;
  queens: readonly EvaluatedQueen[];
  /** What each yard-year gave, by trait, in the trait's scale; `null` where it was not recorded there. */
  levels: readonly { level: string; trait: string; value: number | null; records: number }[];
  /** Mean worth as mother of queens by year of birth; by trait. */
  trend: Readonly<Record<string, readonly TrendYear[]>>;
  /** The same of the index; `null` without weights. */
  indexTrend: readonly TrendYear[] | null;
  connectedness: Connectedness;
  assumptions: readonly Assumption[];
  warnings: readonly EvaluationWarning[];
  records: number;
  iterations: number;
  residual: number;
};

/** Progress of an evaluation: steps done of 4 (laid out, solved, how sure, told), with the part of the step under way. */
type Progress = (done: number, whole: number) => void;
const STEPS = 4;

/** Fewer colonies than this in a yard-year on average: taken as random (common practice, genetics of small tests). */
const SMALL_GROUP = 5;
/** Fewer records than this: the order of queens changes with every new one (our judgement). */
const FEW_RECORDS = 60;

/**
 * Effects of a queen (2t: worker and queen effect of each trait in turn), then of the pool she carries (2t), in the traits' units, as one vector a criterion
 * is a combination of ({@link combinationOf}).
 * @param queen index of a queen of the stock
 * @example pairEffects(workedEquations(), solveEquations(workedEquations()), 0) // [0.29749, 0.89248, 0.19898, 0.33648]; A and the semen of A
 */
export function pairEffects({ descent, system }: Equations, { effects }: Solutions, queen: number): Float64Array {
  const q = system.effects;
  const out = new Float64Array(2 * q);
  const [row, pool] = [descent.queenRow[queen] as number, descent.carriedRow[queen] as number];
  out.set(effects.subarray(row * q, (row + 1) * q));
  out.set(effects.subarray(pool * q, (pool + 1) * q), q);
  return out;
}

/**
 * Σ k·x over the length of k, in the unit of k times that of x; 0 for an empty k, not a number where x is shorter.
 * @example dot(Float64Array.of(1, 2), Float64Array.of(3, 4)) // 11
 */
export const dot = (k: Float64Array, x: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < k.length; i++) sum += (k[i] as number) * (x[i] as number);
  return sum;
};

/** The combinations worth telling: every trait alone and, with weights, the index; each by every criterion. */
type Wanted = { trait: string | null; by: Record<Criterion, Float64Array> };

function wantedOf(traits: readonly string[], weights: EvaluationInput['weights']): Wanted[] {
  const all = (of: readonly number[]) =>
    Object.fromEntries(criteria.map((criterion) => [criterion, combinationOf(criterion, of)])) as Wanted['by'];
  const single = traits.map((trait, s) => ({ trait, by: all(traits.map((_, u) => (u === s ? 1 : 0))) }));
  if (weights === undefined) return single;
  return [...single, { trait: null, by: all(traits.map((trait) => weights[trait] ?? 0)) }];
}

type Certain = {
  /** Of every queen, wanted combination and criterion, in that order; empty when none is wanted. */
  sure: Sureness[];
  error: Evaluation['reliabilityError'];
};

/** Part of the third step that the queens take where some are worked out exactly as well. */
const QUEENS_PART = 0.5;

/** How sure every worth is; where that is approximate, how far off it is in some queens. */
function certaintyOf(
  { pedigree, records }: Prepared,
  equations: Equations,
  { wanted, kind, progress }: { wanted: readonly Wanted[]; kind: ReliabilityKind; progress: (part: number) => void },
): Certain {
  const sure: Sureness[] = [];
  if (kind === 'none') return { sure, error: null };
  const combinations = wanted.flatMap(({ by }) => criteria.map((criterion) => by[criterion]));
  const { queens } = pedigree.stock.columns;
  const isNear = kind === 'approximate';
  eachSureness(pedigree, equations, inverseOf(equations, kind), (queen, of) => {
    for (const k of combinations) sure.push(of(k));
    if (queen % 1000 === 999) progress(((isNear ? QUEENS_PART : 1) * (queen + 1)) / queens);
  });
  if (!isNear) return { sure, error: null };
  const rest = (1 - QUEENS_PART) / criteria.length;
  const error = criteria.map((criterion, c) => {
    const compared = reliabilityError(equations, records, {
      combinations: wanted.map(({ by }) => by[criterion]),
      approximate: (queen, w) => sure[queen * combinations.length + w * criteria.length + c]?.reliability ?? 0,
      progress: (part) => progress(QUEENS_PART + (c + part) * rest),
    });
    return [criterion, compared] as const;
  });
  return { sure, error: Object.fromEntries(error) as Record<Criterion, ReliabilityError> };
}

/** Part of a solve that is done at a relative residual: every tenth power is as far as the last. */
const solvedPart = (residual: number): number => Math.min(1, Math.max(0, -Math.log10(residual) / 10));

/** What has to be taken off every value so that the mean of the reference cohort is 0, by wanted combination and criterion. */
function baseOf(values: readonly (readonly number[])[], reference: readonly number[]): number[] {
  const width = values[0]?.length ?? 0;
  return Array.from({ length: width }, (_, c) =>
    reference.length === 0
      ? 0
      : reference.reduce((sum, queen) => sum + (values[queen]?.[c] ?? 0), 0) / reference.length,
  );
}

/** Names written out in a warning. */
const NAMED = 8;
const some = (names: readonly string[]): string =>
  names.length <= NAMED ? names.join(', ') : `${names.slice(0, NAMED).join(', ')} …`;

function warningsOf({ records, model }: Prepared, { alone, sets }: Connectedness): EvaluationWarning[] {
  const out: EvaluationWarning[] = [];
  const groups = records.factors[0]?.names.length ?? 1;
  if (alone.length > 0) out.push({ code: 'alone', values: { n: alone.length, names: some(alone) } });
  if (sets.length > 1)
    out.push({ code: 'not-joined', values: { n: sets.length, names: sets.slice(0, NAMED).map(some).join(' | ') } });
  if (model.random === undefined && records.count / groups < SMALL_GROUP)
    out.push({ code: 'small-groups', values: { mean: Math.round((10 * records.count) / groups) / 10 } });
  if (records.count < FEW_RECORDS) out.push({ code: 'few-records', values: { n: records.count } });
  return out;
}

/** Records of each queen, and of each level of the leading effect by trait. */
function countsOf({ records, pedigree, model }: Prepared) {
  const t = model.traits.length;
  const ofQueen = new Int32Array(pedigree.stock.columns.queens);
  const ofLevel = new Map<string, number>();
  for (let r = 0; r < records.count; r++) {
    const queen = records.queen[r] as number;
    ofQueen[queen] = (ofQueen[queen] as number) + 1;
    const leading = records.factors[0];
    const level = leading?.names[leading.level[r] as number] ?? '';
    for (let s = 0; s < t; s++) {
      if (Number.isNaN(records.values[r * t + s] as number)) continue;
      const key = `${level} ${model.traits[s]}`;
      ofLevel.set(key, (ofLevel.get(key) ?? 0) + 1);
    }
  }
  return { ofQueen, ofLevel };
}

/**
 * Works out worth from an input, or says why it cannot: see {@link prepareEvaluation}. Best linear unbiased prediction (Henderson 1975, Biometrics
 * 31:423) with worker and queen effects, `var = G ⊗ A`. Values and errors are in the units of the records' scale, reliabilities 0-1; `levels` are
 * what each yard-year gave. Equations are solved to a relative residual of 1e-10. The same input gives the same bits, whatever order its queens and
 * records come in. Queens without a record have what their relatives say of them. Nothing is thrown for what an input holds.
 * @param progress told now and then: steps done of 4, with the part of the step under way
 * @example evaluate(workedInput).queens[0].worth.honey.mother.value // 1.13045; A, in kg
 * @example evaluate({ ...workedInput, records: [] }).problems[0].code // 'worth-no-records'
 */
export function evaluate(
  input: EvaluationInput,
  progress: Progress = () => undefined,
): Evaluation | { problems: readonly EvaluationProblem[] } {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) return prepared;
  const { pedigree, records, model, groups } = prepared;
  const { names, columns } = pedigree.stock;
  const equations = makeEquations(descentOf(pedigree, groups), records, model);
  progress(1, STEPS);
  let solved = 0;
  const solutions = solveEquations(equations, {
    progress: (_, residual) => {
      solved = Math.max(solved, solvedPart(residual));
      progress(1 + solved, STEPS);
      return undefined;
    },
  });
  progress(2, STEPS);
  const kind = input.reliability ?? (columns.queens <= MOST_FOR_EXACT ? 'exact' : 'approximate');
  const wanted = wantedOf(model.traits, input.weights);
  const { sure, error } = certaintyOf(prepared, equations, {
    wanted,
    kind,
    progress: (part) => progress(2 + part, STEPS),
  });
  progress(3, STEPS);
  const values = Array.from({ length: columns.queens }, (_, queen) => {
    const x = pairEffects(equations, solutions, queen);
    return wanted.flatMap(({ by }) => criteria.map((criterion) => dot(by[criterion], x)));
  });
  const reference = (input.reference ?? []).map((id) => names.queenIndex(id)).filter((queen) => queen >= 0);
  const base = baseOf(values, reference);
  const counts = countsOf(prepared);
  const width = base.length;
  const worthAt = (queen: number, w: number): WorthByCriterion =>
    Object.fromEntries(
      criteria.map((criterion, c) => {
        const at = w * criteria.length + c;
        const certain = sure[queen * width + at];
        const value = (values[queen]?.[at] ?? 0) - (base[at] ?? 0);
        return [criterion, { value, error: certain?.error ?? null, reliability: certain?.reliability ?? null }];
      }),
    ) as WorthByCriterion;
  const queens = values.map((_, queen): EvaluatedQueen => {
    const id = names.queenId(queen);
    const told = wanted.map((_one, w) => worthAt(queen, w));
    return {
      id,
      code: names.queenName(queen),
      year: input.years?.[id] ?? null,
      records: counts.ofQueen[queen] ?? 0,
      worth: Object.fromEntries(model.traits.map((trait, s) => [trait, told[s] as WorthByCriterion])),
      index: input.weights === undefined ? null : (told[model.traits.length] ?? null),
    };
  });
  const joined = connectedness(pedigree, records);
  const levels = effectLevels(records, model, solutions);
  const leading = model.random === undefined ? levels.fixed : levels.random;
  const trendBy = (of: (queen: EvaluatedQueen) => number) =>
    trendOfYears(queens.map((queen) => ({ year: queen.year, value: of(queen) })));
  progress(STEPS, STEPS);
  return {
    problems: [],
    traits: model.traits,
    reliability: kind,
    reliabilityError: error,
    queens,
    levels: leading.map(({ level, trait, value }) => ({
      level,
      trait,
      value,
      records: counts.ofLevel.get(`${level} ${trait}`) ?? 0,
    })),
    trend: Object.fromEntries(
      model.traits.map((trait) => [trait, trendBy(({ worth }) => worth[trait]?.mother.value ?? 0)]),
    ),
    indexTrend: input.weights === undefined ? null : trendBy(({ index }) => index?.mother.value ?? 0),
    connectedness: joined,
    assumptions: assumptionsOf(pedigree),
    warnings: warningsOf(prepared, joined),
    records: records.count,
    iterations: solutions.iterations,
    residual: solutions.residual,
  };
}
