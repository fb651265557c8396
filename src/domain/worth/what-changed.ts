/**
 * Why worth moved between two runs: the new inputs are put in one after the other — first the model, then descent, then the records, then the reference
 * cohort — and each step is worked out again. `from + byModel + byDescent + byRecords + byBase = to`, to rounding.
 */
import type { Criterion } from './criteria.ts';
import { type EvaluatedQueen, evaluate } from './evaluation.ts';
import type { EvaluationInput, EvaluationProblem, RecordRow } from './evaluation-input.ts';

/** The worth asked about; `trait` null = the index. */
export type AskedChange = { trait: string | null; criterion: Criterion };

/** What moved a queen's worth. `from` null: she, or the trait, was not in the run before; then nothing is told apart. `to` null: she is gone. */
export type Change = {
  queen: string;
  code: string;
  from: number | null;
  to: number | null;
  byModel: number;
  byDescent: number;
  byRecords: number;
  byBase: number;
};

/** Records as another model's traits have them; a trait that was not there is not recorded. */
function asTraits(rows: readonly RecordRow[], from: readonly string[], to: readonly string[]): RecordRow[] {
  const at = to.map((trait) => from.indexOf(trait));
  return rows.map((row) => ({ ...row, values: at.map((k) => (k < 0 ? null : (row.values[k] ?? null))) }));
}

type Step = ReadonlyMap<string, number>;

function valuesOf(input: EvaluationInput, { trait, criterion }: AskedChange): Step | null {
  const answer = evaluate({ ...input, reliability: 'none' });
  if (!('queens' in answer)) return null;
  const worth = ({ worth: by, index }: EvaluatedQueen) => (trait === null ? index : by[trait])?.[criterion].value;
  return new Map(
    answer.queens.flatMap((queen) => {
      const value = worth(queen);
      return value === undefined ? [] : [[queen.id, value] as const];
    }),
  );
}

/**
 * What moved every queen's worth between two runs, largest move first, on the scale of evaluation. Where a step alone cannot be worked out (the old records
 * lack a trait of the new model), its change is told with the next step. `problems` when the new input cannot be evaluated. Costs six evaluations without
 * reliabilities. Own convention: another order of the steps would tell the causes otherwise.
 * @example const moved = whatChanged(workedInput, { ...workedInput, reference: ['A'] }, { trait: 'honey', criterion: 'mother' });
 * moved.find(({ queen }) => queen === 'A') // { from: 1.13045, to: 0, byModel: 0, byDescent: 0, byRecords: 0, byBase: -1.13045 }
 */
export function whatChanged(
  before: EvaluationInput,
  after: EvaluationInput,
  asked: AskedChange,
): Change[] | { problems: readonly EvaluationProblem[] } {
  const end = evaluate({ ...after, reliability: 'none' });
  if (!('queens' in end)) return end;
  const { weights, groups } = after;
  const rows = asTraits(before.records, before.model.traits, after.model.traits);
  const known = new Set(after.pedigree.queens.map(({ id }) => id));
  // What is chosen of the new run on the old book; the base stays the old one until the last step.
  const chosen: EvaluationInput = {
    pedigree: before.pedigree,
    records: rows,
    model: after.model,
    ...(before.reference === undefined ? {} : { reference: before.reference }),
    ...(weights === undefined ? {} : { weights }),
    ...(groups === undefined ? {} : { groups }),
  };
  const descended = { ...chosen, pedigree: after.pedigree, records: rows.filter(({ queen }) => known.has(queen)) };
  const recorded = { ...descended, records: after.records };
  const steps = [before, chosen, descended, recorded, after].map((input) => valuesOf(input, asked));
  const codes = new Map([...before.pedigree.queens, ...after.pedigree.queens].map(({ id, code }) => [id, code ?? id]));
  const [first, ...later] = steps;
  return [...codes]
    .map(([queen, code]): Change => {
      const from = first?.get(queen) ?? null;
      const to = steps.at(-1)?.get(queen) ?? null;
      const change = { queen, code, from, to, byModel: 0, byDescent: 0, byRecords: 0, byBase: 0 };
      if (from === null || to === null) return change;
      let last = from;
      for (const [k, by] of (['byModel', 'byDescent', 'byRecords', 'byBase'] as const).entries()) {
        const value = later[k]?.get(queen) ?? last;
        change[by] = value - last;
        last = value;
      }
      return change;
    })
    .sort((a, b) => Math.abs((b.to ?? 0) - (b.from ?? 0)) - Math.abs((a.to ?? 0) - (a.from ?? 0)));
}
