import { type Column, gathered, type Piece, type Slice } from './column.ts';
import { catchShares, type DroneCatch, type DroneSource, STRANGERS, sourceKey } from './drone-source.ts';
import { type DroneSums, effectiveOf, summed } from './drone-sums.ts';
import { batchOf, dronesBehind, type Origins } from './origins.ts';

/** One drone mother (or group, line, strangers) in a piece of semen. */
export type MotherPart = {
  of: DroneSource;
  /** Part of the semen, 0-1. */
  share: number;
  semen: number;
  /** Drones of hers in it, counted; a fraction where a layer is cut. */
  drones: number;
  /** Effective drones within this mother; below 1 where few of drones not told apart are hers by share. */
  effective: number;
  /** True when the effective number rests on a count (÷ 1.36) or less. */
  guessed: boolean;
};

/** Catches by id: what a piece of semen that was not told apart may hold. */
export type Catches = ReadonlyMap<string, DroneCatch>;

/** A catch nobody described is drones of nobody we know. */
const sharesOfCatch = (catches: Catches, id: string) => {
  const known = catches.get(id);
  return known === undefined ? [{ of: STRANGERS, share: 1 }] : catchShares(known);
};

/** Drones split among the mothers of their catch, each mother with her part of the drones and of every sum. */
function byMother(sums: DroneSums, catches: Catches): (DroneSums & { of: DroneSource })[] {
  if (sums.of !== null) return [{ ...sums, of: sums.of }];
  return sharesOfCatch(catches, sums.catch).map(({ of, share }) => ({
    ...sums,
    of,
    semen: sums.semen * share,
    squares: sums.squares * share,
    drones: sums.drones * share,
  }));
}

/**
 * The mothers in some drones, by volume, the largest part first: shares add up to 1.
 * Drones of one mother from two catches are added together.
 */
export function mothersOf(drones: readonly DroneSums[], catches: Catches): MotherPart[] {
  const parts = drones.flatMap((sums) => byMother(sums, catches)).map((sums) => ({ ...sums, catch: '' }));
  const all = summed(parts);
  const semen = all.reduce((sum, part) => sum + part.semen, 0);
  return all
    .map((part) => ({
      of: part.of ?? STRANGERS,
      share: semen > 0 ? part.semen / semen : 0,
      semen: part.semen,
      drones: part.drones,
      effective: effectiveOf(part),
      guessed: part.guessed,
    }))
    .sort((a, b) => b.share - a.share);
}

/** The mothers in pieces of semen; see {@link mothersOf}. */
export const mothersIn = (pieces: readonly Piece[], book: { origins: Origins; catches: Catches }): MotherPart[] =>
  mothersOf(
    pieces.flatMap((piece) => dronesBehind(piece, book.origins)),
    book.catches,
  );

/** A layer as it lies in the tube: µl, µl of semen in it, its mothers, the batch if it is all one. */
export type Layer = { microlitres: number; semen: number; mothers: readonly MotherPart[]; batch: string | null };

const sameMothers = (a: Layer, b: Layer): boolean =>
  a.batch === b.batch &&
  a.mothers.length === b.mothers.length &&
  a.mothers.every((part, i) => {
    const other = b.mothers[i];
    return (
      other !== undefined && sourceKey(part.of) === sourceKey(other.of) && Math.abs(part.share - other.share) < 1e-9
    );
  });

/**
 * The layers of a column, seen from the end it was filled by; neighbouring drones of the same mothers are one layer.
 * Where no end is said semen leaves by that end, so the first layer is the next to come out.
 */
export function layersOf(column: Column, book: { origins: Origins; catches: Catches }): Layer[] {
  const groups: { layer: Layer; slices: Slice[] }[] = [];
  for (const slice of [...column].reverse()) {
    const layer = layerOf([slice], book);
    const last = groups.at(-1);
    if (last !== undefined && sameMothers(last.layer, layer)) last.slices.push(slice);
    else groups.push({ layer, slices: [slice] });
  }
  return groups.map(({ slices }) => layerOf(slices, book));
}

function layerOf(slices: readonly Slice[], book: { origins: Origins; catches: Catches }): Layer {
  const pieces = gathered(slices);
  return {
    microlitres: slices.reduce((sum, slice) => sum + slice.microlitres, 0),
    semen: pieces.reduce((sum, piece) => sum + piece.semen, 0),
    mothers: mothersIn(pieces, book),
    batch: batchOf(pieces, book.origins)?.id ?? null,
  };
}
