import type { QueenFace, WornMark } from '#domain/marking/queen-face.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';

/** The kinds {@link queenFaces} reads: spread them into a question's `reads`. */
export const faceReads = [
  'queen',
  'mark',
  'line',
  'fate',
  'stay',
  'colony',
  'colony_place',
  'yard',
  'cage',
  'graft',
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

/** "Nuc 7, Home yard", "cage 12"; `null` when no stay is open. */
function standsIn(stays: readonly Row<'stay'>[], { colonies, yards, cages, placesOf }: Places): string | null {
  const open = stays.filter(({ to_earliest, to_latest }) => to_earliest === null && to_latest === null).at(-1);
  if (open === undefined) return null;
  if (open.cage !== null) return `cage ${cages.get(open.cage)?.number ?? ''}`;
  const colony = open.colony === null ? undefined : colonies.get(open.colony);
  if (colony === undefined) return null;
  const place = (placesOf.get(colony.id) ?? []).filter(({ stood_to }) => stood_to === null).at(-1);
  const yard = place === undefined ? undefined : yards.get(place.yard);
  return yard === undefined ? colony.code : `${colony.code}, ${yard.name}`;
}

/**
 * What every queen (or those given) is recognised by, in order of entry: mark, code or cell, line, place, living state.
 * Reads {@link faceReads}.
 */
export async function queenFaces(
  facts: Facts,
  options: { today: Day; queens?: readonly Row<'queen'>[] },
): Promise<QueenFace[]> {
  const queens = options.queens ?? (await facts.find('queen'));
  const marks = groupBy(await facts.find('mark'), ({ queen }) => queen);
  const stays = groupBy(await facts.find('stay'), ({ queen }) => queen);
  const ended = new Set((await facts.find('fate')).map(({ queen }) => queen));
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
    if (cell === undefined) return null;
    return `${grafts.get(cell.graft)?.code ?? ''} ${cell.position}`.trim();
  };
  return queens.map((queen) => ({
    id: queen.id,
    code: queen.code,
    called: queen.code === null ? cellOf(queen) : null,
    year: yearOfQueen(queen),
    mark: wornBy(marks.get(queen.id) ?? []),
    line: queen.line === null ? null : (lines.get(queen.line)?.name ?? null),
    stands: standsIn(stays.get(queen.id) ?? [], places),
    living: ended.has(queen.id) ? 'gone' : 'alive',
  }));
}
