import { catchShares, type DroneSource, sourceKey } from './drone-source.ts';
import type { TubeStory } from './ledger-story.ts';

/** A cross whose queens are not all inseminated yet. `dosesGiven` counts every dose already given for it. */
export type OpenCross = {
  id: string;
  droneSide: readonly { of: DroneSource; share: number | null }[];
  queensWanted: number;
  dosesPerQueen: number;
  /** µl of one dose. */
  dose: number;
  dosesGiven: number;
};

/** Semen of one drone mother: what there is, what open crosses want of it, what is free (below zero: short), all in µl of semen. */
export type MotherBalance = {
  of: DroneSource;
  semen: number;
  promised: number;
  free: number;
  /** The open crosses that want it. */
  crosses: readonly string[];
};

/** Doses a cross still wants; never below zero. */
export const dosesWanted = (cross: OpenCross): number =>
  Math.max(0, cross.queensWanted * cross.dosesPerQueen - cross.dosesGiven);

type Running = { of: DroneSource; semen: number; promised: number; crosses: Set<string> };

/**
 * Promised and free semen per drone mother: semen of hers in every tube (by volume in mixed tubes) against what open crosses
 * still want of it (their dose times her share of the cross). Mothers nobody has semen of, but a cross wants, are listed too.
 * An overdrawn tube counts as empty.
 */
export function promisedAndFree(tubes: readonly TubeStory[], crosses: readonly OpenCross[]): MotherBalance[] {
  const balances = new Map<string, Running>();
  const at = (of: DroneSource): Running => {
    const known = balances.get(sourceKey(of)) ?? { of, semen: 0, promised: 0, crosses: new Set() };
    balances.set(sourceKey(of), known);
    return known;
  };
  for (const part of tubes.flatMap((tube) => tube.layers.flatMap((layer) => layer.mothers))) {
    at(part.of).semen += part.semen;
  }
  for (const cross of crosses) {
    const wanted = dosesWanted(cross) * cross.dose;
    if (wanted <= 0) continue;
    for (const { of, share } of catchShares({ id: cross.id, mothers: cross.droneSide, strangers: 0 })) {
      const balance = at(of);
      balance.promised += wanted * share;
      balance.crosses.add(cross.id);
    }
  }
  return [...balances.values()].map((one) => ({ ...one, free: one.semen - one.promised, crosses: [...one.crosses] }));
}
