import { type Problem, warn } from '#units/problem.ts';
import { type DroneSource, sourceKey } from './drone-source.ts';
import type { TubeStory } from './ledger-story.ts';

/**
 * Warns when a cross asks for drones of several mothers in every queen but the tube is filled in layers: the first queens
 * would get one mother's drones, the last the other's. Stirred and homogenised tubes, and crosses of one mother, are quiet.
 */
export function layersForMixedCross(
  tube: TubeStory,
  droneSide: readonly DroneSource[],
): Problem<'layers-split-the-mothers'>[] {
  const wanted = new Set(droneSide.map(sourceKey));
  if (wanted.size < 2 || tube.mixing !== 'layered') return [];
  const first = tube.layers[0]?.mothers.map((part) => sourceKey(part.of)) ?? [];
  const isSplit = [...wanted].some((mother) => !first.includes(mother));
  return isSplit ? [warn('', 'layers-split-the-mothers', { tube: tube.tube, layers: tube.layers.length })] : [];
}
