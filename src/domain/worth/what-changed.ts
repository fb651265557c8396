/** What moved between two runs, and why: the same stock evaluated step by step from the old input to the new. */
import { breedingValues } from './breeding-values.ts';
import { type EvaluationInput, readyInput } from './evaluation-input.ts';
import { effectsOf, fixedName } from './model.ts';

/**
 * One queen's worth as mother of queens in one trait. For a queen of both runs `from + byModel + byDescent + byRecords + byBase = to`; a queen who is in one
 * run only has null for the other and 0 for the reasons.
 */
export type WhatChanged = {
  /** Id. */
  queen: string;
  from: number | null;
  to: number | null;
  /** Other variances (or, where `together`, other traits or effects and the records under them). */
  byModel: number;
  /** Queens, dams and matings added or corrected. */
  byDescent: number;
  /** Records added, corrected or taken out. */
  byRecords: number;
  /** Another reference cohort, or the same one having moved. */
  byBase: number;
  /** The two models have other traits or effects, so that model and records could only change together. */
  together: boolean;
};

/**
 * Goes from `before` to `after` in three steps (model, descent, records), each an evaluation of its own, and counts both ends from their reference cohorts.
 * The largest change first. Throws when one of the inputs cannot be evaluated: stored runs could.
 */
export function whatChanged(before: EvaluationInput, after: EvaluationInput, trait: string): WhatChanged[] {
  const together = shapeOf(before) !== shapeOf(after);
  const steps = together
    ? [before, { ...before, pedigree: after.pedigree }, after]
    : [
        before,
        { ...before, model: after.model },
        { ...before, model: after.model, pedigree: after.pedigree },
        { ...after, reference: before.reference ?? [] },
      ];
  const runs = steps.map((step) => worths(withoutStrangers(step), trait));
  const [first, last] = [runs[0] as Worths, runs.at(-1) as Worths];
  const base = cohortMean(first, before.reference) - cohortMean(last, after.reference);
  const [fromBase, toBase] = [cohortMean(first, before.reference), cohortMean(last, after.reference)];
  const out = [...new Set([...first.keys(), ...last.keys()])].map((queen): WhatChanged => {
    const [from, to] = [first.get(queen), last.get(queen)];
    const known = { queen, from: less(from, fromBase), to: less(to, toBase), together };
    if (from === undefined || to === undefined) return { ...known, byModel: 0, byDescent: 0, byRecords: 0, byBase: 0 };
    return {
      ...known,
      ...reasons(
        runs.map((run) => run.get(queen) as number),
        together,
      ),
      byBase: base,
    };
  });
  const size = (one: WhatChanged) => (one.from === null || one.to === null ? 0 : Math.abs(one.to - one.from));
  return out.sort((a, b) => size(b) - size(a));
}

type Worths = ReadonlyMap<string, number>;

const less = (value: number | undefined, base: number): number | null => (value === undefined ? null : value - base);

function reasons(
  values: readonly number[],
  together: boolean,
): Pick<WhatChanged, 'byModel' | 'byDescent' | 'byRecords'> {
  const step = (k: number) => (values[k + 1] as number) - (values[k] as number);
  return together
    ? { byDescent: step(0), byModel: step(1), byRecords: 0 }
    : { byModel: step(0), byDescent: step(1), byRecords: step(2) };
}

const shapeOf = ({ model }: EvaluationInput): string =>
  JSON.stringify([model.traits, effectsOf(model).map(fixedName), model.random === undefined]);

/** Records of queens who are not in the pedigree of this step are left out of it. */
function withoutStrangers(input: EvaluationInput): EvaluationInput {
  const known = new Set(input.pedigree.queens.map((queen) => queen.id));
  return { ...input, records: input.records.filter((row) => known.has(row.queen)) };
}

/** Worth as mother of queens of every queen by id, counted from the founders. */
function worths(input: EvaluationInput, trait: string): Worths {
  const { ready, problems } = readyInput(input);
  if (ready === null) throw new RangeError(`a step between the runs cannot be evaluated: ${problems[0]?.code}`);
  const { pedigree, records, model, groups } = ready;
  const at = model.traits.indexOf(trait);
  if (at < 0) return new Map();
  const { queens } = breedingValues(pedigree, records, model, { reliability: 'none', ...(groups && { groups }) });
  const t = model.traits.length;
  return new Map(
    Array.from({ length: pedigree.stock.columns.queens }, (_, i) => [
      pedigree.stock.names.queenId(i),
      queens[i * t + at]?.asMotherOfQueens as number,
    ]),
  );
}

/** Mean of the reference cohort, 0 without one. */
function cohortMean(values: Worths, reference: readonly string[] = []): number {
  const known = reference.flatMap((id) => values.get(id) ?? []);
  return known.length === 0 ? 0 : known.reduce((sum, value) => sum + value, 0) / known.length;
}
