/** The queens of a run in the order of their worth, as much of it as is looked at: the rest of a large stock stays where it was worked out. */
import type { QueenFace } from '../marking/queen-face.ts';
import { ruleOf } from '../scoring/trait.ts';
import type { Criterion } from './criteria.ts';
import type { EvaluatedQueen, Evaluation, Worth } from './evaluation.ts';

/** A queen in the ranking: her worth in the unit it is shown in, and where it lay in the run before. */
export type Ranked = {
  queen: Pick<EvaluatedQueen, 'id' | 'code'>;
  face: QueenFace | null;
  worth: Worth;
  before: number | null;
};

/** What is looked at. */
export type AskedRanking = {
  /** A trait of the run; any other text: the index, or the first trait where there is none. */
  of: string;
  criterion: Criterion;
  /** Leaves out queens who are gone. */
  livingOnly: boolean;
  /** How many of the best are told. */
  most: number;
  /** Told beside them, wherever she stands. */
  opened: string | null;
  /** Own units (kg, points …) of each trait in one of the scale it was evaluated on. */
  units: Readonly<Record<string, number>>;
  /** Worth in the run before by queen id, on the scale of evaluation, NaN = not in it. */
  before: { queens: readonly string[]; from: Float64Array } | null;
};

/** The best queens, and what is said of all. */
export type RankedStock = {
  /** The trait told; `null` = the index. */
  seen: string | null;
  /** How many queens have a worth, and how many of the others are as good as the first: apart by less than the root of both squared errors. */
  queens: number;
  asGood: number;
  /** Reach of all values with their errors, of those before, and of 0. */
  low: number;
  high: number;
  /** Best first. */
  best: Ranked[];
  opened: Ranked | null;
};

const inUnits = ({ value, error, reliability }: Worth, units: number): Worth => ({
  value: value * units,
  error: error === null ? null : error * units,
  reliability,
});

/**
 * The trait looked at when `of` is chosen: itself when the run has it, else the index (`null`), else the first trait; `null` as well without any trait.
 * @example seenOf({ traits: ['honey'], indexTrend: null }, '') // 'honey'
 */
export const seenOf = ({ traits, indexTrend }: Pick<Evaluation, 'traits' | 'indexTrend'>, of: string): string | null =>
  traits.includes(of) ? of : indexTrend === null ? (traits[0] ?? null) : null;

/** How many others are as good as the first, the two errors taken as independent. */
function countAsGood([first, ...others]: readonly Ranked[]): number {
  if (first === undefined) return 0;
  return others.filter(({ worth }) => {
    const apart = Math.abs(first.worth.value - worth.value);
    return apart < Math.hypot(first.worth.error ?? 0, worth.error ?? 0);
  }).length;
}

function reachOf(ranked: readonly Ranked[]): Pick<RankedStock, 'low' | 'high'> {
  let [low, high] = [0, 0];
  for (const {
    worth: { value, error },
    before,
  } of ranked) {
    low = Math.min(low, value - (error ?? 0), before ?? 0);
    high = Math.max(high, value + (error ?? 0), before ?? 0);
  }
  return { low, high };
}

/**
 * Ranks the queens of a run: by value, most first, or least first where less is better; of equals in the order of the run. Values and errors in the trait's
 * own unit (the index in that of its weights), reliabilities 0-1. Others are as good as the first when they lie apart by less than the root of both squared
 * errors (both taken as independent; judgement). Without any queen: no rows, reach 0 to 0. Time: n log n.
 * @param faces queens by id, as they are recognised; one who has none is told without it, and counts as gone
 * @example rankingOf(evaluate(workedInput), {}, { of: 'honey', criterion: 'mother', livingOnly: false, most: 1, opened: null, units: {}, before: null })
 * // { queens: 7, best: [{ queen: { id: 'Q1' }, before: null }], opened: null }
 */
export function rankingOf(
  answer: Pick<Evaluation, 'traits' | 'indexTrend' | 'queens'>,
  faces: Readonly<Record<string, QueenFace>>,
  { of, criterion, livingOnly, most, opened, units, before }: AskedRanking,
): RankedStock {
  const seen = seenOf(answer, of);
  const unit = seen === null ? 1 : (units[seen] ?? 1);
  const turn = seen !== null && ruleOf(seen).better === 'less' ? -1 : 1;
  const earlier = new Map(before?.queens.map((queen, at) => [queen, before.from[at] as number]));
  const ranked = answer.queens.flatMap(({ id, code, index, worth }): Ranked[] => {
    if (livingOnly && (faces[id]?.living ?? 'gone') === 'gone') return [];
    const found = (seen === null ? index : worth[seen])?.[criterion];
    if (found === undefined) return [];
    const from = earlier.get(id) ?? Number.NaN;
    const told = { queen: { id, code }, face: faces[id] ?? null, before: Number.isNaN(from) ? null : from * unit };
    return [{ ...told, worth: inUnits(found, unit) }];
  });
  ranked.sort((a, b) => turn * (b.worth.value - a.worth.value));
  return {
    seen,
    queens: ranked.length,
    asGood: countAsGood(ranked),
    ...reachOf(ranked),
    best: ranked.slice(0, most),
    opened: ranked.find(({ queen }) => queen.id === opened) ?? null,
  };
}
