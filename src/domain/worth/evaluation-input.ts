/** What an evaluation starts from, as plain data: it goes to a worker, into a stored run and back without loss. */
import { eigenOf } from '#numeric/dense/small-matrix.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { PedigreeFacts } from '../pedigree/facts.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { layPedigreeOf, type PedigreeProblem } from '../pedigree/pedigree.ts';
import { NONE } from '../pedigree/stock.ts';
import type { ReliabilityKind } from './breeding-values.ts';
import { type Groups, groupsOf } from './groups.ts';
import { effectsOf, fixedName, type Model } from './model.ts';
import type { Records } from './records.ts';

/** One row a queen and season. */
export type RecordRow = {
  /** Id of the queen whose colony it was, as in the pedigree. */
  queen: string;
  /** One text an effect of the model (the random one first, if there is one, then the fixed), already joined: `3 Hill:2026`. */
  levels: readonly string[];
  /** One a trait of the model, in its units; null = not recorded (never 0 for that). */
  values: readonly (number | null)[];
  /** An opaque id of the caller's (the score card), given back where a number is opened down to its records. */
  record?: string;
};

export type EvaluationInput = {
  pedigree: PedigreeFacts;
  records: readonly RecordRow[];
  model: Model;
  /** Default: exact to 30,000 queens, approximate beyond. */
  reliability?: ReliabilityKind;
  /** Ids of the reference cohort whose mean is 0; none = counted from the founders. */
  reference?: readonly string[];
  /** Worth of one unit of each trait; without weights there is no index. */
  weights?: Readonly<Record<string, number>>;
  /** Genetic groups by queen id: of founders, and of open drones; variance of a group's mean in units of G. */
  groups?: { founder: Readonly<Record<string, string>>; open: Readonly<Record<string, string>>; variance: number };
};

export type EvaluationProblemCode =
  | 'evaluation-without-traits'
  | 'evaluation-matrix-size'
  | 'evaluation-not-positive-definite'
  | 'evaluation-queen-unknown'
  | 'evaluation-record-of-group'
  | 'evaluation-record-size'
  | 'evaluation-level-missing'
  | 'evaluation-value-not-finite'
  | 'evaluation-without-records'
  | 'evaluation-trait-without-records';

export type EvaluationProblem = PedigreeProblem | Problem<EvaluationProblemCode>;

/** An input whose descent stands and whose records fit the model. */
export type ReadyInput = { pedigree: Pedigree; records: Records; model: Model; groups?: Groups };

/** Lays out the pedigree, checks the model and turns the rows into columns; or everything that is wrong, model first. */
export function readyInput(
  input: EvaluationInput,
): { ready: ReadyInput; problems: [] } | { ready: null; problems: EvaluationProblem[] } {
  const modelProblems = checkModel(input.model);
  const laid = layPedigreeOf(input.pedigree);
  if (laid.pedigree === null || modelProblems.length > 0)
    return { ready: null, problems: [...modelProblems, ...laid.problems] };
  const { pedigree } = laid;
  const problems = checkRecords(input, pedigree);
  if (problems.length > 0) return { ready: null, problems };
  const groups = groupsGiven(input, pedigree);
  const records = recordColumns(input, pedigree);
  return { ready: { pedigree, records, model: input.model, ...(groups && { groups }) }, problems: [] };
}

function checkModel(model: Model): Problem<EvaluationProblemCode>[] {
  const t = model.traits.length;
  if (t === 0) return [refuse('model.traits', 'evaluation-without-traits')];
  const matrices = [
    ['G', model.G, 2 * t],
    ['R', model.R, t],
    ...(model.random === undefined ? [] : [['random', model.random.covariance, t] as const]),
  ] as const;
  return matrices.flatMap(([name, a, size]): Problem<EvaluationProblemCode>[] => {
    const path = `model.${name}`;
    if (a.length !== size * size)
      return [refuse(path, 'evaluation-matrix-size', { name, found: a.length, expected: size })];
    return isPositiveDefinite(a, size) ? [] : [refuse(path, 'evaluation-not-positive-definite', { name })];
  });
}

function isPositiveDefinite(a: Float64Array, size: number): boolean {
  for (let k = 0; k < a.length; k++) {
    const other = a[(k % size) * size + Math.floor(k / size)] as number;
    if (!Number.isFinite(a[k]) || Math.abs((a[k] as number) - other) > 1e-9 * Math.abs(other)) return false;
  }
  const { values } = eigenOf(a, size);
  return (values[0] as number) > 1e-12 * Math.abs(values[size - 1] as number);
}

const MOST_PROBLEMS = 1000;

function checkRecords({ records, model }: EvaluationInput, { stock }: Pedigree): Problem<EvaluationProblemCode>[] {
  const problems: Problem<EvaluationProblemCode>[] = [];
  const effects = effectsOf(model);
  const seen = new Uint8Array(model.traits.length);
  for (const [r, row] of records.entries()) {
    if (problems.length >= MOST_PROBLEMS) return problems;
    const at = (field: string) => `records.${r}.${field}`;
    const queen = stock.names.queenIndex(row.queen);
    if (queen === NONE) problems.push(refuse(at('queen'), 'evaluation-queen-unknown', { found: row.queen }));
    else if ((stock.columns.sisters[queen] as number) > 1)
      problems.push(refuse(at('queen'), 'evaluation-record-of-group', { queen: stock.names.queenName(queen) }));
    if (row.levels.length !== effects.length || row.values.length !== model.traits.length)
      problems.push(refuse(at('values'), 'evaluation-record-size', { queen: row.queen }));
    const empty = effects.find((_, k) => row.levels[k] === '');
    if (empty) problems.push(refuse(at('levels'), 'evaluation-level-missing', { effect: fixedName(empty) }));
    for (const [t, value] of row.values.entries()) {
      if (value === null) continue;
      seen[t] = 1;
      if (!Number.isFinite(value)) problems.push(refuse(at('values'), 'evaluation-value-not-finite', { found: value }));
    }
  }
  if (records.length === 0) return [refuse('records', 'evaluation-without-records')];
  for (const [t, trait] of model.traits.entries())
    if (seen[t] === 0) problems.push(refuse('records', 'evaluation-trait-without-records', { trait }));
  return problems;
}

/** Rows with no value at all are passed over; levels are numbered in the order they first occur. */
function recordColumns({ records, model }: EvaluationInput, { stock }: Pedigree): Records {
  const rows = recordedRows(records);
  const t = model.traits.length;
  const values = new Float64Array(rows.length * t);
  for (const [r, row] of rows.entries()) for (let k = 0; k < t; k++) values[r * t + k] = row.values[k] ?? Number.NaN;
  return {
    count: rows.length,
    queen: Int32Array.from(rows, (row) => stock.names.queenIndex(row.queen)),
    values,
    factors: effectsOf(model).map((_, k) => factorOf(rows.map((row) => row.levels[k] ?? ''))),
  };
}

/** The rows that hold a value, in order: row r of the columns is the r-th of these. */
export const recordedRows = (records: readonly RecordRow[]): RecordRow[] =>
  records.filter((row) => row.values.some((value) => value !== null));

function factorOf(texts: readonly string[]): Records['factors'][number] {
  const numbers = new Map<string, number>();
  const level = new Int32Array(texts.length);
  for (const [r, text] of texts.entries()) {
    const number = numbers.get(text) ?? numbers.size;
    numbers.set(text, number);
    level[r] = number;
  }
  return { level, names: [...numbers.keys()] };
}

function groupsGiven({ groups }: EvaluationInput, pedigree: Pedigree): Groups | undefined {
  if (groups === undefined) return undefined;
  const map = (of: Readonly<Record<string, string>>) => new Map(Object.entries(of));
  const read = groupsOf(pedigree, {
    founder: map(groups.founder),
    open: map(groups.open),
    variance: groups.variance,
  });
  return read.names.length === 0 ? undefined : read;
}

/** One English sentence for a problem of an evaluation, with what to do. */
export function sayEvaluationProblem({ code, path, values }: EvaluationProblem): string {
  switch (code) {
    case 'evaluation-without-traits':
      return 'the model has no trait; name at least one';
    case 'evaluation-matrix-size':
      return `${values.name}: ${values.found} numbers; expected ${values.expected} × ${values.expected} for the traits of the model`;
    case 'evaluation-not-positive-definite':
      return `${values.name} is not positive definite; a variance is 0 or below, or a correlation beyond ±1: correct it or take a published set`;
    case 'evaluation-queen-unknown':
      return `a record names the queen "${values.found}", who is not in the pedigree; give her a row or correct the record`;
    case 'evaluation-record-of-group':
      return `${values.queen}: a record of a whole group of sisters; give the recorded sister a row of her own`;
    case 'evaluation-record-size':
      return `${values.queen}: the record has not one value a trait and one level an effect of the model`;
    case 'evaluation-level-missing':
      return `a record says nothing about ${values.effect}, which the model has as an effect; fill it in or leave the record out`;
    case 'evaluation-value-not-finite':
      return `a record holds ${values.found}, which is no number; leave the value empty`;
    case 'evaluation-without-records':
      return 'nothing was recorded yet; enter score cards first';
    case 'evaluation-trait-without-records':
      return `nobody recorded ${values.trait}; take it out of the model or record it`;
    case 'pedigree-loop':
      return `${values.found} descends from herself: ${values.loop}; correct a dam or a drone mother on the way`;
    case 'pedigree-born-before-dam':
      return `${values.queen} emerged on ${values.found}, before her dam ${values.older} (${values.olderBorn}); correct one of the days or the dam`;
    case 'pedigree-born-before-drone-mother':
      return `${values.queen} emerged on ${values.found}, before ${values.older} (${values.olderBorn}), whose drones fathered her; correct one of the days or the drone mother`;
    case 'pedigree-dam-is-group':
      return `${values.queen}: her dam ${values.found} is a group of sisters; give the sister who was grafted from a row of her own`;
    default:
      return `${path}: ${code} (${values.found ?? ''}); correct the pedigree`;
  }
}

/** An input as JSON can hold it: G, R and the covariance of the random effect as plain arrays. */
export type PlainInput = Omit<EvaluationInput, 'model'> & { model: PlainModel };
export type PlainModel = Omit<Model, 'G' | 'R' | 'random'> & {
  G: number[];
  R: number[];
  random?: { effect: readonly string[]; covariance: number[] };
};

/** To store an input with its run. Doubles survive JSON unchanged, so a rerun gives the same bits. */
export function plainInput({ model, ...rest }: EvaluationInput): PlainInput {
  const { G, R, random, ...others } = model;
  const effect = random && { random: { effect: random.effect, covariance: [...random.covariance] } };
  return { ...rest, model: { ...others, G: [...G], R: [...R], ...effect } };
}

/** The input a stored run kept. */
export function inputOfPlain({ model, ...rest }: PlainInput): EvaluationInput {
  const { G, R, random, ...others } = model;
  const effect = random && {
    random: { effect: random.effect, covariance: Float64Array.from(random.covariance) },
  };
  return { ...rest, model: { ...others, G: Float64Array.from(G), R: Float64Array.from(R), ...effect } };
}
