import { type LivingState, livingState } from '#domain/living/living-state.ts';
import type { QueenFace, Stand, WornMark } from '#domain/marking/queen-face.ts';
import { type GatheredLiving, gatherLiving, livingReads } from '#gather/living.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';

/** The kinds {@link queenFaces} reads: spread them into a question's `reads`. */
export const faceReads = [
  ...livingReads,
  'mark',
  'line',
  'colony',
  'colony_place',
  'yard',
  'cage',
  'graft_cell',
] as const satisfies readonly KindName[];

const byId = <T extends { id: string }>(rows: readonly T[]): Map<string, T> =>
  new Map(rows.map((row) => [row.id, row]));

/** Calendar year a queen emerged, if it is known. */
export const yearOfQueen = ({ emerged, year }: Pick<Row<'queen'>, 'emerged' | 'year'>): number | null =>
  emerged === null ? year : yearOf(emerged);

function wornBy(marks: readonly Row<'mark'>[]): WornMark | null {
  const worn = marks.filter(({ worn_to, lost }) => worn_to === null && lost !== 1);
  const last = worn.at(-1);
  return last === undefined ? null : { colour: last.colour, disc: last.disc, clip: last.clip };
}

type Places = {
  colonies: Map<string, Row<'colony'>>;
  yards: Map<string, Row<'yard'>>;
  cages: Map<string, Row<'cage'>>;
  placesOf: Map<string, Row<'colony_place'>[]>;
};

/** Where her open stay is; `null` when none is. */
function standsIn(stays: readonly Row<'stay'>[], { colonies, yards, cages, placesOf }: Places): Stand | null {
  const open = stays.filter(({ to_earliest, to_latest }) => to_earliest === null && to_latest === null).at(-1);
  if (open === undefined) return null;
  if (open.cage !== null) return { in: 'cage', name: cages.get(open.cage)?.number ?? '', yard: null };
  const colony = open.colony === null ? undefined : colonies.get(open.colony);
  if (colony === undefined) return null;
  const place = (placesOf.get(colony.id) ?? []).filter(({ stood_to }) => stood_to === null).at(-1);
  const yard = place === undefined ? undefined : yards.get(place.yard);
  return { in: 'colony', name: colony.code, yard: yard?.name ?? null };
}

/** A queen's face with what it was worked out from. */
export type FacedQueen = { row: Row<'queen'>; face: QueenFace; state: LivingState };

/** What every queen is recognised by, in order of entry, with her record and her living state; and all that is known of lives. */
export async function facedQueens(facts: Facts, today: Day): Promise<{ faced: FacedQueen[]; living: GatheredLiving }> {
  const living = await gatherLiving(facts);
  const marks = groupBy(await facts.find('mark'), ({ queen }) => queen);
  const stays = groupBy(await facts.find('stay'), ({ queen }) => queen);
  const lines = byId(await facts.find('line'));
  const cells = byId(await facts.find('graft_cell'));
  const grafts = byId(await facts.find('graft'));
  const places: Places = {
    colonies: byId(await facts.find('colony')),
    yards: byId(await facts.find('yard')),
    cages: byId(await facts.find('cage')),
    placesOf: groupBy(await facts.find('colony_place'), ({ colony }) => colony),
  };
  const cellOf = (queen: Row<'queen'>): string | null => {
    const cell = queen.cell === null ? undefined : cells.get(queen.cell);
    return cell === undefined ? null : `${grafts.get(cell.graft)?.code ?? ''} ${cell.position}`.trim();
  };
  const faced = living.queens.map((row): FacedQueen => {
    const state = livingState(living.of(row.id), today);
    const face: QueenFace = {
      id: row.id,
      code: row.code,
      called: row.code === null ? cellOf(row) : null,
      year: yearOfQueen(row),
      mark: wornBy(marks.get(row.id) ?? []),
      line: row.line === null ? null : (lines.get(row.line)?.name ?? null),
      stands: standsIn(stays.get(row.id) ?? [], places),
      living: state.state,
    };
    return { row, face, state };
  });
  return { faced, living };
}

/** The faces alone. Reads {@link faceReads}. */
export const queenFaces = async (facts: Facts, { today }: { today: Day }): Promise<QueenFace[]> =>
  (await facedQueens(facts, today)).faced.map(({ face }) => face);
