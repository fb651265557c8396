/** One number opened down to the records it rests on. */
import { descentOf } from './descent.ts';
import { type Equations, makeEquations } from './equations.ts';
import { type EvaluationInput, readyInput, recordedRows } from './evaluation-input.ts';
import { type Solutions, solveEquations } from './solve-equations.ts';
import { type Criterion, partsOf, weigher } from './weights-of-records.ts';

/** One recorded value and its part in a breeding value: `part = weight · deviation`. */
export type RestingPart = {
  /** Opaque id the caller gave the record; null without one. */
  record: string | null;
  /** Id of the queen recorded. */
  queen: string;
  trait: string;
  /** As recorded. */
  value: number;
  /** Less the fixed effects as estimated from all records. */
  deviation: number;
  weight: number;
  part: number;
};

export type RestsOn = {
  /** Counted from the founders, whatever the reference cohort is. */
  value: number;
  /** Exact reliability of this value. */
  reliability: number;
  /** Every record, the largest part in absolute value first; they add up to `value`. */
  parts: RestingPart[];
};

export type RestsOnAsked = { queen: string; trait: string; criterion: Criterion };

/**
 * What a breeding value is made of, record by record, exactly. Costs two solves. Throws when the input cannot be evaluated, or when the queen or trait is not
 * in it: the page has shown their number before.
 * @example restsOn(input, { queen: 'Q7', trait: 'honey', criterion: 'mother' }).parts[0] // { record, queen: 'Q7', value: 42, deviation: 5.1, weight: 0.08, part: 0.41 }
 */
export function restsOn(input: EvaluationInput, asked: RestsOnAsked): RestsOn {
  const { ready } = readyInput(input);
  if (ready === null) throw new RangeError('this input has problems: evaluate it first');
  const { pedigree, records, model } = ready;
  const queen = pedigree.stock.names.queenIndex(asked.queen);
  const trait = model.traits.indexOf(asked.trait);
  if (queen < 0 || trait < 0) throw new RangeError(`no queen ${asked.queen} or no trait ${asked.trait}`);
  const equations = makeEquations(descentOf(pedigree, ready.groups), records, model);
  const { weights, reliability } = weigher(
    equations,
    records,
  )(partsOf(equations, { queen, trait, criterion: asked.criterion }));
  const expected = expectedValues(equations, solveEquations(equations));
  const rows = recordedRows(input.records);
  const t = model.traits.length;
  const parts: RestingPart[] = [];
  for (let at = 0; at < records.count; at++) {
    const row = rows[equations.recordFrom[at] as number];
    for (const [s, name] of model.traits.entries()) {
      const value = row?.values[s];
      if (row === undefined || value === null || value === undefined) continue;
      const deviation = value - (expected[at * t + s] as number);
      const weight = weights[at * t + s] as number;
      parts.push({
        record: row.record ?? null,
        queen: row.queen,
        trait: name,
        value,
        deviation,
        weight,
        part: weight * deviation,
      });
    }
  }
  parts.sort((a, b) => Math.abs(b.part) - Math.abs(a.part));
  return { value: parts.reduce((sum, one) => sum + one.part, 0), reliability, parts };
}

/** What the fixed effects expect of every record, `records × traits` in the order of the equations. */
function expectedValues({ system, model }: Equations, { leading, further }: Solutions): Float64Array {
  const { observations, traits: t, factors } = system;
  const out = new Float64Array(observations.count * t);
  const { classStart, levels } = observations;
  for (let c = 0; c + 1 < classStart.length; c++) {
    for (let r = classStart[c] as number; r < (classStart[c + 1] as number); r++) {
      for (let s = 0; s < t; s++) {
        let sum = model.random === undefined ? (leading[c * t + s] as number) : 0;
        for (let f = 0; f < factors; f++) {
          const level = levels[r * factors + f] as number;
          if (level >= 0) sum += further[level * t + s] as number;
        }
        out[r * t + s] = sum;
      }
    }
  }
  return out;
}
