import { z } from 'zod';
import { layingRecord } from '#domain/living/laying-record.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { type DroneSide, droneSideOf, indexPedigree, type PedigreeIndex } from '#domain/stock-book/drone-side.ts';
import { type Stage, stageOf } from '#domain/stock-book/stage.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import { gatherPedigree, pedigreeReads } from '#gather/pedigree.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { KindName } from '#records/kinds.ts';
import { type Day, laterOf } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { type FacedQueen, facedQueens, faceReads } from './queen-faces.ts';

/** One line of the stock book. */
export type StockRow = QueenFace & {
  emerged: Day | null;
  /** ± days of `emerged`, when it is "about". */
  about: number | null;
  dam: { id: string; name: string; guessed: boolean } | null;
  /** What she carries, as far as anything is written. */
  droneSide: DroneSide | null;
  stage: Stage;
  /** Gives or gave drones: named as a drone mother anywhere. */
  droneMother: boolean;
  lineId: string | null;
  lastSeen: Day | null;
  daughters: number;
};

const input = z.strictObject({ today: dayShape });

const sourceReads = [
  'cross_drone_source',
  'drone_comb',
  'drone_catch_source',
  'mating_season_source',
] as const satisfies readonly KindName[];

/** The kinds {@link gatherStockRows} reads. */
export const stockRowReads = [...faceReads, ...pedigreeReads, ...sourceReads] as const;

/** Every queen named anywhere as one whose drones were, are or will be used. */
async function droneMothers(facts: Facts, index: PedigreeIndex): Promise<Set<string>> {
  const named = new Set<string>();
  const add = (queen: string | null) => queen !== null && named.add(queen);
  for (const { queen } of await facts.find('cross_drone_source')) add(queen);
  for (const { queen } of await facts.find('mating_season_source')) add(queen);
  for (const { mother } of await facts.find('drone_comb')) add(mother);
  for (const { mother } of await facts.find('drone_catch_source')) add(mother);
  for (const { sources } of index.pools.values())
    for (const source of sources) if ('queen' in source) add(source.queen);
  return named;
}

/** The day of each queen's last insemination that was done. */
async function lastInseminated(facts: Facts): Promise<Map<string, Day>> {
  const last = new Map<string, Day>();
  for (const row of await facts.find('insemination')) {
    const on = dayOfInsemination(row);
    if (row.done === 1 && on !== null) last.set(row.queen, laterOf(on, last.get(row.queen) ?? on));
  }
  return last;
}

/** Every line of the stock book, in order of entry, and the descent they were worked out from. */
export async function gatherStockRows(facts: Facts, today: Day) {
  const { faced, living } = await facedQueens(facts, today);
  const pedigree = await gatherPedigree(facts);
  const index = indexPedigree(pedigree.facts);
  const mothers = await droneMothers(facts, index);
  const inseminated = await lastInseminated(facts);
  const daughters = new Map<string, number>();
  for (const { dam } of pedigree.facts.queens) if (dam != null) daughters.set(dam, (daughters.get(dam) ?? 0) + 1);

  const rowOf = ({ row, face, state }: FacedQueen): StockRow => {
    const dam = index.queens.get(row.id)?.dam ?? null;
    const pool = index.queens.get(row.id)?.pool ?? null;
    const looks = { checks: living.of(row.id).checks, since: inseminated.get(row.id) ?? null, isLost: false };
    const { laying, isDroneLayer } = layingRecord(looks);
    const hasLaid = laying === 'yes' || (daughters.get(row.id) ?? 0) > 0;
    return {
      ...face,
      emerged: row.emerged,
      about: row.emerged_about,
      dam: dam === null ? null : { id: dam, name: pedigree.nameOf(dam), guessed: row.dam_sure === 'guessed' },
      droneSide: droneSideOf(pool, index),
      stage: stageOf({ emerged: row.emerged, mated: pool !== null, hasLaid, isDroneLayer }, today),
      droneMother: mothers.has(row.id),
      lineId: row.line,
      lastSeen: state.lastSeen,
      daughters: daughters.get(row.id) ?? 0,
    };
  };
  return { rows: faced.map(rowOf), faced, living, pedigree, index };
}

/** The whole stock book: every queen with her mark, dam, drones, line, place and state. */
export const stockBook: Question<z.infer<typeof input>, StockRow[], { queens: StockRow[] }> = question({
  name: 'stock-book',
  what: 'Every queen of the book with her mark, dam, drones, line, place and living state.',
  input,
  reads: stockRowReads,
  gather: async ({ today }, facts) => (await gatherStockRows(facts, today)).rows,
  answer: (queens) => ({ queens }),
});
