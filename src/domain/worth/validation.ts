/**
 * How far breeding values can be believed, by leaving records out: those of a focal set worked out without their own and later records, against
 * those with (Legarra and Reverter 2018, Genet Sel Evol 50:53).
 */
import { yearOfDayNumber } from '../pedigree/day-number.ts';
import { groupRelationship } from '../pedigree/kinship.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { breedingValues } from './breeding-values.ts';
import type { Groups } from './groups.ts';
import { effectsOf, type Model } from './model.ts';
import type { Records } from './records.ts';

/** Values worked out without the focal records beside those with them; see {@link compareValues}. */
export type Comparison = {
  /** Mean without minus mean with; 0 expected. */
  bias: number;
  /** Slope of with on without; 1 expected, below 1 = values spread too far. */
  dispersion: number;
  /** Correlation of the two: ratio of their accuracies. */
  correlation: number;
  /** cov / var of those with the records: ratio of reliabilities. */
  ratio: number;
};

const mean = (x: readonly number[]) => x.reduce((sum, v) => sum + v, 0) / x.length;

function covariance(x: readonly number[], y: readonly number[]): number {
  const [mx, my] = [mean(x), mean(y)];
  return x.reduce((sum, v, i) => sum + (v - mx) * ((y[i] as number) - my), 0) / (x.length - 1);
}

/**
 * Compares values without the focal records (`partial`) with those from all (`whole`), pair by pair and in one unit; at least 3 pairs that differ, else the
 * figures may not be numbers. Legarra and Reverter 2018, Genet Sel Evol 50:53: bias `mean(p) − mean(w)`, dispersion `cov(w, p)/var(p)`, correlation, `cov(w,
 * p)/var(w)`.
 * @example compareValues([1, 2, 3], [1, 2, 4]) // { bias: -0.3333, dispersion: 1.5000, ratio: 0.6429 }; cov 3/2, var(p) 1, var(w) 7/3
 */
export function compareValues(partial: readonly number[], whole: readonly number[]): Comparison {
  const both = covariance(partial, whole);
  const [vp, vw] = [covariance(partial, partial), covariance(whole, whole)];
  return {
    bias: mean(partial) - mean(whole),
    dispersion: both / vp,
    correlation: both / Math.sqrt(vp * vw),
    ratio: both / vw,
  };
}

/**
 * Reliability of the values without the records: `cov / ((1 + F̄ − 2f̄) σ²)`, F̄ and f̄ mean inbreeding and coancestry of the focal set, σ² the genetic
 * variance of what is compared, in the values' unit squared (Legarra and Reverter 2018, Genet Sel Evol 50:53). An estimate: it may fall outside 0 … 1. Needs
 * at least two pairs.
 * @example reliabilityWithout([1, 2, 3], [1, 2, 4], { inbreeding: 0, coancestry: 0.25, variance: 6 }) // 0.5; cov 3/2, divided by ½ · 6
 */
export const reliabilityWithout = (
  partial: readonly number[],
  whole: readonly number[],
  spread: { inbreeding: number; coancestry: number; variance: number },
): number => covariance(partial, whole) / ((1 + spread.inbreeding - 2 * spread.coancestry) * spread.variance);

/** The comparison of one trait; `reliability` is that of the values without the focal records ({@link reliabilityWithout}). */
export type Validation = Comparison & {
  trait: string;
  /** Queens compared. */
  focal: number;
  reliability: number;
  /** Correlation of the values without with the focal records, less the fixed effects of the whole run; null when fewer than 3 were recorded. */
  predictiveAbility: number | null;
  /** Value without and with, for a picture. */
  pairs: { queen: string; without: number; with: number }[];
};

/**
 * Leaves out the records of queens born in `year` or later and compares their worth as mothers of queens with the worth from all records, trait by trait, in
 * its unit ({@link compareValues}). Queens whose birth nobody knows stay in. `null` when fewer than three queens born that year were recorded, or no record is
 * left.
 * @param year calendar year of birth
 * @example const { pedigree, records, model } = workedPrepared(); validate(pedigree, records, model, 2024)[0] // { trait: 'honey', focal: 4 }
 * @example const { pedigree, records, model } = workedPrepared(); validate(pedigree, records, model, 2022) // null; C was not recorded
 */
export function validate(
  pedigree: Pedigree,
  records: Records,
  model: Model,
  year: number,
  options: { bornIn?: (queen: number) => number | null; groups?: Groups } = {},
): Validation[] | null {
  const bornIn = options.bornIn ?? ((queen: number) => yearOfDayNumber(pedigree.stock.columns.born[queen] as number));
  const focal = [...new Set(Array.from(records.queen).filter((queen) => bornIn(queen) === year))];
  const kept = Array.from(records.queen.keys()).filter((r) => (bornIn(records.queen[r] as number) ?? 0) < year);
  if (focal.length < 3 || kept.length === 0) return null;
  const plain = { reliability: 'none' as const, ...(options.groups === undefined ? {} : { groups: options.groups }) };
  const partial = breedingValues(pedigree, recordsAt(records, kept, model.traits.length), model, plain);
  const whole = breedingValues(pedigree, records, model, plain);
  const t = model.traits.length;
  return model.traits.map((trait, s) => {
    const at = (run: typeof whole, queen: number) => run.queens[queen * t + s]?.asMotherOfQueens ?? 0;
    const [without, withAll] = [focal.map((queen) => at(partial, queen)), focal.map((queen) => at(whole, queen))];
    return {
      trait,
      focal: focal.length,
      ...compareValues(without, withAll),
      reliability: reliabilityWithout(without, withAll, spreadOf(pedigree, model, focal, s)),
      predictiveAbility: predictiveAbility({ records, model, whole, partial }, focal, s),
      pairs: focal.map((queen, i) => ({
        queen: pedigree.stock.names.queenName(queen),
        without: without[i] as number,
        with: withAll[i] as number,
      })),
    };
  });
}

/**
 * Some of the records, in the order asked for; levels that no longer occur are dropped and the others renumbered in their order.
 * @param at places of records, 0 … count − 1
 * @param traits how many values a record has
 * @example recordsAt(workedPrepared().records, [3, 4], 1) // { count: 2, values: [30, 28], factors: [{ level: [0, 0], names: ['2:2025'] }] }
 */
export function recordsAt(records: Records, at: readonly number[], traits: number): Records {
  const values = new Float64Array(at.length * traits);
  at.forEach((r, k) => {
    values.set(records.values.subarray(r * traits, (r + 1) * traits), k * traits);
  });
  return {
    count: at.length,
    queen: Int32Array.from(at, (r) => records.queen[r] as number),
    values,
    factors: records.factors.map(({ level, names }) =>
      withoutEmpty(
        Int32Array.from(at, (r) => level[r] as number),
        names,
      ),
    ),
  };
}

/** Levels that still occur, renumbered in their order. */
function withoutEmpty(level: Int32Array, names: readonly string[]): Records['factors'][0] {
  const used = names.map((_, k) => k).filter((k) => level.includes(k));
  const place = new Map(used.map((k, at) => [k, at]));
  return { level: level.map((k) => place.get(k) ?? 0), names: used.map((k) => names[k] as string) };
}

function spreadOf(pedigree: Pedigree, model: Model, focal: readonly number[], s: number) {
  const q = 2 * model.traits.length;
  const g = (i: number, j: number) => model.G[(2 * s + i) * q + 2 * s + j] as number;
  const inbreeding = mean(focal.map((queen) => pedigree.inbreeding[queen] as number));
  const members = focal.map((queen) => ({ queen: pedigree.stock.names.queenId(queen), share: 1 }));
  const coancestry = groupRelationship(pedigree, members) / 2;
  // a queen passes half of both effects through her daughters
  return { inbreeding, coancestry, variance: (g(0, 0) + 2 * g(0, 1) + g(1, 1)) / 4 };
}

type Runs = {
  records: Records;
  model: Model;
  whole: ReturnType<typeof breedingValues>;
  partial: ReturnType<typeof breedingValues>;
};

function predictiveAbility(
  { records, model, whole, partial }: Runs,
  focal: readonly number[],
  s: number,
): number | null {
  const t = model.traits.length;
  const wanted = new Set(focal);
  const levels = records.factors.map((factor, k) => {
    const name = effectsOf(model)[k]?.join(':');
    const byName = new Map(
      [...whole.random, ...whole.fixed]
        .filter((one) => one.factor === name && one.trait === model.traits[s])
        .map((one) => [one.level, one.value ?? 0]),
    );
    return factor.names.map((level) => byName.get(level) ?? 0);
  });
  const [seen, expected]: [number[], number[]] = [[], []];
  for (let r = 0; r < records.count; r++) {
    const queen = records.queen[r] as number;
    const value = records.values[r * t + s] as number;
    if (!wanted.has(queen) || Number.isNaN(value)) continue;
    seen.push(records.factors.reduce((rest, factor, k) => rest - (levels[k]?.[factor.level[r] as number] ?? 0), value));
    expected.push(partial.queens[queen * t + s]?.asColony ?? 0);
  }
  return seen.length < 3
    ? null
    : covariance(seen, expected) / Math.sqrt(covariance(seen, seen) * covariance(expected, expected));
}
