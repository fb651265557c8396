import type { LivingState } from '#domain/living/living-state.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { crossReads } from '#gather/cross-plan.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { type FacedQueen, facedQueens, faceReads } from '../stock/queen-faces.ts';

export const sideReads = [...faceReads, ...crossReads, 'sister_group'] as const satisfies readonly KindName[];

/** A queen as a side of a cross shows her: what she is recognised by, and how it is known whether she lives. */
export type SideQueen = {
  face: QueenFace;
  /** Why she is taken as living, gone or unknown. */
  why: LivingState['why'];
  lastSeen: Day | null;
  /** The last day she can have lived, when she is gone. */
  ended: Day | null;
};

/** One part of a drone side with its share of the semen; exactly one of queen, group and line is named. */
export type DronePart = {
  share: number | null;
  queen: SideQueen | null;
  group: { id: string; code: string; size: number } | null;
  line: { id: string; name: string } | null;
};

export type CrossSides = {
  dams: SideQueen[];
  drones: DronePart[];
  standIns: (SideQueen & { side: 'queen' | 'drone' })[];
};

/** Every queen of the book as a side would show her, and the sides of every cross. */
export type GatheredSides = {
  queens: ReadonlyMap<string, SideQueen>;
  faced: readonly FacedQueen[];
  of(cross: string): CrossSides;
};

const sideQueen = ({ face, state }: FacedQueen): SideQueen => ({
  face,
  why: state.why,
  lastSeen: state.lastSeen,
  ended: state.end?.on?.latest ?? null,
});

type Named = { groups: ReadonlyMap<string, Row<'sister_group'>>; lines: ReadonlyMap<string, Row<'line'>> };

function dronePart(
  row: Row<'cross_drone_source'>,
  queens: GatheredSides['queens'],
  { groups, lines }: Named,
): DronePart {
  const group = row.sister_group === null ? undefined : groups.get(row.sister_group);
  const line = row.line === null ? undefined : lines.get(row.line);
  return {
    share: row.share,
    queen: row.queen === null ? null : (queens.get(row.queen) ?? null),
    group: group === undefined ? null : { id: group.id, code: group.code, size: group.size },
    line: line === undefined ? null : { id: line.id, name: line.name },
  };
}

const byId = <T extends { id: string }>(rows: readonly T[]): Map<string, T> =>
  new Map(rows.map((row) => [row.id, row]));

/** Reads who stands on which side of every cross. */
export async function gatherSides(facts: Facts, today: Day): Promise<GatheredSides> {
  const { faced } = await facedQueens(facts, today);
  const queens = new Map(faced.map((each) => [each.face.id, sideQueen(each)]));
  const dams = groupBy(await facts.find('cross_dam'), ({ cross }) => cross as string);
  const sources = groupBy(await facts.find('cross_drone_source'), ({ cross }) => cross as string);
  const standIns = groupBy(await facts.find('cross_stand_in'), ({ cross }) => cross as string);
  const named: Named = { groups: byId(await facts.find('sister_group')), lines: byId(await facts.find('line')) };
  const known = (queen: string): SideQueen[] => {
    const found = queens.get(queen);
    return found === undefined ? [] : [found];
  };
  return {
    queens,
    faced,
    of: (cross) => ({
      dams: (dams.get(cross) ?? []).flatMap(({ queen }) => known(queen)),
      drones: (sources.get(cross) ?? []).map((row) => dronePart(row, queens, named)),
      standIns: (standIns.get(cross) ?? []).flatMap(({ queen, side }) =>
        known(queen).map((each) => ({ ...each, side })),
      ),
    }),
  };
}
