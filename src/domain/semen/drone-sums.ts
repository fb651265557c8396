import { type DroneSource, sourceKey } from './drone-source.ts';
import { DRONES_PER_EFFECTIVE } from './effective-drones.ts';

/** Drones of one catch (and one mother, where told apart) with the sums the effective number needs. */
export type DroneSums = {
  catch: string;
  /** The mother when told apart, else null: the catch as a whole. */
  of: DroneSource | null;
  /** µl of semen, Σv. */
  semen: number;
  /** Σv² of the single drones, µl². */
  squares: number;
  /** Counted drones; a fraction where a layer was cut. */
  drones: number;
  /** True when drones were counted, not measured one by one, or not even counted. */
  guessed: boolean;
};

/** Σv² of `semen` µl given by so many counted drones: V²·1.36/n, and V² when that would be less than one drone. */
export const countedSquares = (semen: number, drones: number): number =>
  semen * semen * (drones > 0 ? Math.min(1, DRONES_PER_EFFECTIVE / drones) : 1);

/** A stretch cut off: it takes its own drones with it, the others keep theirs; the thinnest cut is still of one drone. */
export const cutOff = (sums: DroneSums, part: number): DroneSums => ({
  ...sums,
  semen: sums.semen * part,
  squares: Math.min(sums.squares * part, (sums.semen * part) ** 2),
  drones: sums.drones * part,
});

/** A sample of a mixture: a little of every drone. */
export const sampled = (sums: DroneSums, part: number): DroneSums => ({
  ...sums,
  semen: sums.semen * part,
  squares: sums.squares * part * part,
});

/** Effective drones of a sum, (Σv)²/Σv²; 0 without semen. Below 1 only for a part of drones that were not told apart. */
export const effectiveOf = (sums: Pick<DroneSums, 'semen' | 'squares'>): number =>
  sums.squares > 0 ? (sums.semen * sums.semen) / sums.squares : 0;

const keyOf = (sums: DroneSums): string => `${sums.catch} ${sums.of === null ? '' : sourceKey(sums.of)}`;

const added = (a: DroneSums, b: DroneSums): DroneSums => ({
  ...a,
  semen: a.semen + b.semen,
  squares: a.squares + b.squares,
  drones: a.drones + b.drones,
  guessed: a.guessed || b.guessed,
});

/** Drones of one catch and mother added together, in order of first appearance. */
export function summed(all: readonly DroneSums[]): DroneSums[] {
  const byKey = new Map<string, DroneSums>();
  for (const one of all) {
    const sum = byKey.get(keyOf(one));
    byKey.set(keyOf(one), sum === undefined ? one : added(sum, one));
  }
  return [...byKey.values()];
}
