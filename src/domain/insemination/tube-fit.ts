import { type DroneSource, sourceKey } from '#domain/semen/drone-source.ts';
import type { TubeStory } from '#domain/semen/ledger-story.ts';

/** Whether a tube belongs on the bench of a cross: mothers in it that the cross does not ask for, and mothers it lacks. */
export type TubeFit = { fits: boolean; foreign: readonly DroneSource[]; lacking: readonly DroneSource[] };

/**
 * Compares the mothers in a tube with the drone side of a cross. It fits when every mother in it is asked for and at least one
 * is there; strangers in a catch do not count against it. Several tubes may serve one cross, so lacking a mother is only told.
 */
export function tubeFit(tube: TubeStory, droneSide: readonly DroneSource[]): TubeFit {
  const wanted = new Map(droneSide.map((of) => [sourceKey(of), of]));
  const held = new Map(tube.layers.flatMap((layer) => layer.mothers).map((part) => [sourceKey(part.of), part.of]));
  const foreign = [...held].filter(([key, of]) => !wanted.has(key) && of.kind !== 'open').map(([, of]) => of);
  const lacking = [...wanted].filter(([key]) => !held.has(key)).map(([, of]) => of);
  return { fits: foreign.length === 0 && lacking.length < wanted.size, foreign, lacking };
}
