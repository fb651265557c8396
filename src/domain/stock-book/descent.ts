import { type DroneSide, droneSideOf, mothersIn, type PedigreeIndex, poolBehind } from './drone-side.ts';

/** A queen in a descent, with what is behind her as far as it is asked for. */
export type DescentQueen = {
  queen: string;
  name: string;
  /** Number of sisters when a group of unrecorded sisters stands here. */
  sisters: number;
  /** How much of the drones are hers, where she stands as a drone mother. */
  share: number | null;
  /** Her dam; `null` = not known, an open end. Left out beyond the last generation. */
  dam?: DescentQueen | null;
  /** The drones her dam carried when her egg was laid; `null` = not known. Left out beyond the last generation. */
  drones?: DescentDrones | null;
};

/** The drone side: a group of brothers and half-brothers, and the mothers they came from one generation further back. */
export type DescentDrones = {
  side: DroneSide;
  /** Drone mothers by share, the largest first. Left out beyond the last generation. */
  mothers?: DescentQueen[];
  /** How many more drone mothers there are than are told. */
  more: number;
};

/** Drone mothers told by name in a descent; the rest are counted. */
const MOST_MOTHERS = 4;

type Place = { share: number | null; generations: number };

function queenAt(id: string, index: PedigreeIndex, { share, generations }: Place): DescentQueen {
  const her = index.queens.get(id);
  const told = { queen: id, name: her?.code ?? id, sisters: her?.sisters ?? 1, share };
  if (generations <= 1) return told;
  const dam = her?.dam == null ? null : queenAt(her.dam, index, { share: null, generations: generations - 1 });
  const side = droneSideOf(poolBehind(id, index), index);
  return { ...told, dam, drones: side === null ? null : dronesAt(side, index, generations - 1) };
}

function dronesAt(side: DroneSide, index: PedigreeIndex, generations: number): DescentDrones {
  const mothers = mothersIn(side);
  const more = Math.max(0, mothers.length - MOST_MOTHERS);
  if (generations <= 1) return { side, more };
  const told = mothers.slice(0, MOST_MOTHERS);
  return {
    side,
    more,
    mothers: told.map(({ queen, share }) => queenAt(queen, index, { share, generations: generations - 1 })),
  };
}

/**
 * A queen's descent over some generations, herself the first: her dam, and beside the dam the drones as a group. Drones have a
 * mother and no father, so a drone mother stands one generation behind her drones: where a sheet names the drone mother as if she
 * were the drones, everything behind would slip by one.
 * @param generations 1 or more; 4 = to her great-grandmothers
 */
export const descentOf = (queen: string, index: PedigreeIndex, generations: number): DescentQueen =>
  queenAt(queen, index, { share: null, generations });
