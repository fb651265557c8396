/**
 * One worth opened down to the records it rests on. A breeding value is linear in the records: `k'û = Σ w_r (y_r − b_r)`, b what the fixed effects
 * say of record r. All weights come from one solve of the same equations with k on the right-hand side (the equations are symmetric): `w = M Z C⁻¹
 * k`, M the weights of the records with the fixed effects taken out.
 */
import { classSolutions, fittedWithout, makeVector } from '#numeric/mixed/operator.ts';
import { makeSolver } from '#numeric/mixed/solver.ts';
import { type Criterion, combinationOf } from './criteria.ts';
import { descentOf } from './descent.ts';
import { type Equations, makeEquations } from './equations.ts';
import { classOfRecords } from './error-variances.ts';
import { type EvaluationInput, type EvaluationProblem, type Prepared, prepareEvaluation } from './evaluation-input.ts';
import { type Solutions, solveEquations, weightedResiduals } from './solve-equations.ts';

/** The worth to open; `trait` null = the index. */
export type AskedWorth = { queen: string; trait: string | null; criterion: Criterion };

/** What one record gives to the worth. */
export type RestingPart = {
  record: string;
  queen: string;
  level: string;
  trait: string;
  /** As recorded, on the trait's scale, and less what its yard-year (and the like) is taken to give. */
  value: number;
  deviation: number;
  /** Worth for one unit of deviation; the part is their product. */
  weight: number;
  part: number;
};

/** A worth, in the trait's unit (the index in that of the weights), and what each record gives to it. */
export type RestsOn = {
  /** The worth, counted from the reference cohort; the parts add up to it. */
  value: number;
  /** Largest first. */
  parts: RestingPart[];
};

/** k over all rows: the criterion of the queen, less its mean over the reference cohort. */
function askedVector(
  prepared: Prepared,
  equations: Equations,
  asked: AskedWorth,
  input: EvaluationInput,
): Float64Array {
  const { model, pedigree } = prepared;
  const { descent, kept, system } = equations;
  const { names } = pedigree.stock;
  const weights = model.traits.map((trait) =>
    asked.trait === null ? (input.weights?.[trait] ?? 0) : trait === asked.trait ? 1 : 0,
  );
  const k = combinationOf(asked.criterion, weights);
  const q = system.effects;
  const b = makeVector(system);
  const addRow = (row: number, from: number, scale: number) => {
    const { start, row: rows, weight } = descent.part;
    for (let p = start[row] as number; p < (start[row + 1] as number); p++) {
      const node = kept[rows[p] as number] as number;
      for (let e = 0; e < q; e++)
        b[node * q + e] = (b[node * q + e] as number) + scale * (weight[p] as number) * (k[from + e] as number);
    }
  };
  const addQueen = (queen: number, scale: number) => {
    addRow(descent.queenRow[queen] as number, 0, scale);
    addRow(descent.carriedRow[queen] as number, q, scale);
  };
  addQueen(names.queenIndex(asked.queen), 1);
  const reference = (input.reference ?? []).map((id) => names.queenIndex(id)).filter((queen) => queen >= 0);
  for (const queen of reference) addQueen(queen, -1 / reference.length);
  return b;
}

/** What the fixed effects say of a record and trait. */
function fixedPart(equations: Equations, solutions: Solutions) {
  const { system, model } = equations;
  const { observations, traits: t, factors } = system;
  const classOf = classOfRecords(equations);
  return (at: number, s: number): number => {
    let sum = model.random === undefined ? (solutions.leading[(classOf[at] as number) * t + s] as number) : 0;
    for (let f = 0; f < factors; f++) {
      const level = observations.levels[at * factors + f] as number;
      if (level >= 0) sum += solutions.further[level * t + s] as number;
    }
    return sum;
  };
}

/**
 * Opens one worth down to the records it rests on: `k'û = Σ w_r (y_r − b_r)`; the parts add up to the value, largest first, in the trait's unit on the scale
 * of evaluation (the index in that of the weights). Weights without unit within a trait. `null` when the queen is not in the stock; `problems` when the input
 * cannot be evaluated. Own derivation; see the head of this file. Costs two solves with every queen kept.
 * @example restsOn(workedInput, { queen: 'Q1', trait: 'honey', criterion: 'mother' }).value // 1.14623
 */
export function restsOn(
  input: EvaluationInput,
  asked: AskedWorth,
): RestsOn | null | { problems: readonly EvaluationProblem[] } {
  const prepared = prepareEvaluation(input);
  if ('problems' in prepared) return prepared;
  const { pedigree, records, model, groups, rows } = prepared;
  if (pedigree.stock.names.queenIndex(asked.queen) < 0) return null;
  const equations = makeEquations(descentOf(pedigree, groups), records, model, { absorb: false });
  const { system } = equations;
  const solver = makeSolver(system);
  const x = makeVector(system);
  solver.solve(askedVector(prepared, equations, asked, input), x, { tolerance: 1e-12, mostIterations: 5000 });
  const fitted = fittedWithout(solver.operator, x);
  const none = new Float64Array(system.observations.y.length);
  const weights = weightedResiduals(solver.operator, fitted, classSolutions(solver.operator, none, fitted), none);
  const expected = fixedPart(equations, solveEquations(equations));
  const t = model.traits.length;
  const parts: RestingPart[] = [];
  for (let at = 0; at < records.count; at++) {
    const row = rows[equations.recordFrom[at] as number];
    if (row === undefined) continue;
    for (const [s, trait] of model.traits.entries()) {
      const value = row.values[s];
      if (value == null) continue;
      const weight = -(weights[at * t + s] as number);
      const deviation = value - expected(at, s);
      const { record, queen } = row;
      parts.push({
        record,
        queen,
        level: row.levels[0] ?? '',
        trait,
        value,
        deviation,
        weight,
        part: weight * deviation,
      });
    }
  }
  parts.sort((a, b) => Math.abs(b.part) - Math.abs(a.part));
  return { value: parts.reduce((sum, { part }) => sum + part, 0), parts };
}

/** The parts of a worth that matter most, and what all others together give. */
export type RestsOnMost = { parts: RestingPart[]; more: number; moreGive: number; sum: number };

/** Parts smaller than this are rounding: the record does not bear on the worth. */
const ROUNDING = 1e-12;

/**
 * The `most` largest parts, how many more there are and what those give together, and the sum of all, on the scale of evaluation; parts of nothing but
 * rounding (up to 1e-12) are left out. Without parts all figures are 0.
 * @param most whole, 0 or more
 * @example const part = (part) => ({ record: 'r', queen: 'Q', level: 'Mill 2025', trait: 'honey', value: 40, deviation: 2 * part, weight: 0.5, part });
 * mostOf({ value: 2, parts: [part(3), part(-2), part(1)] }, 1) // { more: 2, moreGive: -1, sum: 2 }
 */
export function mostOf({ parts }: RestsOn, most: number): RestsOnMost {
  const real = parts.filter(({ part }) => Math.abs(part) > ROUNDING);
  const sum = (of: readonly RestingPart[]) => of.reduce((total, { part }) => total + part, 0);
  const rest = real.slice(most);
  return { parts: real.slice(0, most), more: rest.length, moreGive: sum(rest), sum: sum(real) };
}
