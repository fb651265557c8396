import type { TubeEnd } from './ledger-line.ts';

/** Semen of one origin inside a slice: `origin` is a key of the origins book (a stretch, a single drone, a batch). */
export type Piece = { origin: string; semen: number };

/** A short stretch of the column: µl in all and the pieces of semen in it; the rest is diluent. */
export type Slice = { microlitres: number; pieces: readonly Piece[] };

/** What stands in a tube, from its other end (first) to the end it was filled by (last). */
export type Column = readonly Slice[];

/** Below this nothing is left: rounding of readings to 0.001 µl, far under any scale. */
export const NOTHING = 1e-9;

export const volumeOf = (column: Column): number => column.reduce((sum, slice) => sum + slice.microlitres, 0);
export const semenOf = (column: Column): number =>
  column.reduce((sum, slice) => sum + slice.pieces.reduce((inner, piece) => inner + piece.semen, 0), 0);

/** A slice made larger or smaller by a factor, everything in it alike. */
export function scaled(slice: Slice, factor: number): Slice {
  const pieces = slice.pieces.map((piece) => ({ ...piece, semen: piece.semen * factor }));
  return { microlitres: slice.microlitres * factor, pieces };
}

/** A slice cut (or stretched) to exactly so many µl, everything in it alike: sums of the ledger stay free of rounding. */
export const resized = (slice: Slice, microlitres: number): Slice => ({
  ...scaled(slice, slice.microlitres > 0 ? microlitres / slice.microlitres : 0),
  microlitres,
});

/** The column seen from an end: the slice that comes out first stands first. Its own inverse. */
const seenFrom = (column: Column, end: TubeEnd): Slice[] => (end === 'filled' ? [...column].reverse() : [...column]);

/**
 * Takes µl out by an end. `taken` is in the order it comes out; `missing` is what the tube did not hold.
 * A slice that is cut is cut in proportion.
 */
export function takeOut(column: Column, end: TubeEnd, microlitres: number) {
  const taken: Slice[] = [];
  const rest: Slice[] = [];
  let open = microlitres;
  for (const slice of seenFrom(column, end)) {
    const out = Math.min(Math.max(open, 0), slice.microlitres);
    const left = slice.microlitres - out;
    if (out > NOTHING) taken.push(left > NOTHING ? resized(slice, out) : slice);
    if (left > NOTHING) rest.push(out > NOTHING ? resized(slice, left) : slice);
    open -= out;
  }
  return { taken, rest: seenFrom(rest, end), missing: open > NOTHING ? open : 0 };
}

/** Puts slices in by an end, the first of them first: the last one then stands at that end. */
export function putIn(column: Column, end: TubeEnd, entering: readonly Slice[]): Slice[] {
  return end === 'filled' ? [...column, ...entering] : [...[...entering].reverse(), ...column];
}

/** Pieces of the same origin added together, in order of first appearance. */
export function gathered(slices: Column): Piece[] {
  const sums = new Map<string, number>();
  for (const slice of slices) {
    for (const { origin, semen } of slice.pieces) sums.set(origin, (sums.get(origin) ?? 0) + semen);
  }
  return [...sums].map(([origin, semen]) => ({ origin, semen }));
}
