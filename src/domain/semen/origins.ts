import type { Moment } from '#units/moment.ts';
import type { Piece } from './column.ts';
import { STRANGERS } from './drone-source.ts';
import { countedSquares, cutOff, type DroneSums, sampled } from './drone-sums.ts';
import { GUESSED_MICROLITRES_PER_DRONE } from './effective-drones.ts';
import type { Mixing } from './ledger-line.ts';

/** What stirred or unknown semen is taken for: `layered` as filled, `stirred` = each dose its own draws from the whole, `homogenised` = one shared batch. */
export type MixingAssumption = 'layered' | 'stirred' | 'homogenised';

/** When semen was taken from the drones; `orEarlier` where nobody says and it was received then, or some of it was. */
export type Since = { moment: Moment; epoch: number; orEarlier: boolean };

/** Semen that lies in the tube as the drones gave it: several drones not read one by one (`stretch`), or one drone. */
export type Stretch = { kind: 'stretch' | 'drone'; sums: DroneSums; since: Since };

/** Semen mixed at some moment. Who is served from it points to the same batch (or draws from it). */
export type Batch = {
  kind: 'batch';
  id: string;
  /** µl of semen when it was mixed. */
  semen: number;
  of: readonly DroneSums[];
  mixing: Exclude<Mixing, 'layered'>;
  assumed: Exclude<MixingAssumption, 'layered'>;
  since: Since | null;
};

/** Semen of which nothing is written: a dose from a tube nobody recorded filling. */
export type UnknownOrigin = { kind: 'unknown' };
export type Origin = Stretch | Batch | UnknownOrigin;
export type Origins = ReadonlyMap<string, Origin>;

/** The key of semen of unknown origin, and the catch it is booked under. */
export const UNKNOWN_ORIGIN = 'unknown';

/** The origin of a piece; a key that is not in the book is semen of unknown origin. */
export const originOf = (origins: Origins, key: string): Origin => origins.get(key) ?? { kind: 'unknown' };

function unknownDrones(semen: number): DroneSums {
  const drones = semen / GUESSED_MICROLITRES_PER_DRONE;
  return { catch: UNKNOWN_ORIGIN, of: STRANGERS, semen, squares: countedSquares(semen, drones), drones, guessed: true };
}

/** The drones behind a piece of semen. Of a stretch a part has part of the drones, of a batch or of one drone a little of each. */
export function dronesBehind(piece: Piece, origins: Origins): DroneSums[] {
  const origin = originOf(origins, piece.origin);
  if (origin.kind === 'unknown') return [unknownDrones(piece.semen)];
  const whole = origin.kind === 'batch' ? origin.semen : origin.sums.semen;
  const part = whole > 0 ? piece.semen / whole : 0;
  if (origin.kind === 'batch') return origin.of.map((sums) => sampled(sums, part));
  return [origin.kind === 'drone' ? sampled(origin.sums, part) : cutOff(origin.sums, part)];
}

/** The earliest moment any of this semen was taken from drones, or earlier where that of a part is not known; null when none is. */
export function oldestOf(pieces: readonly Piece[], origins: Origins): Since | null {
  const known = pieces.flatMap((piece) => {
    const origin = originOf(origins, piece.origin);
    return origin.kind === 'unknown' || origin.since === null ? [] : [origin.since];
  });
  const oldest = known.reduce<Since | null>((old, one) => (old === null || one.epoch < old.epoch ? one : old), null);
  return oldest === null ? null : { ...oldest, orEarlier: known.some(({ orEarlier }) => orEarlier) };
}

/** Mixing of the pieces in one slice or column: that of their batch when there is just one, else layers. */
export function batchOf(pieces: readonly Piece[], origins: Origins): Batch | null {
  const [first, ...others] = pieces;
  if (first === undefined || others.some((piece) => piece.origin !== first.origin)) return null;
  const origin = originOf(origins, first.origin);
  return origin.kind === 'batch' ? origin : null;
}
