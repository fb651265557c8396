import { type Microlitre, microlitres } from '#units/volume.ts';

/** A part of the improved Neubauer chamber that is counted as one. */
export type ChamberField = 'ruled-area' | 'large-square' | 'group' | 'small-square';

/** Edge of each field in mm; the chamber is 0.1 mm deep. A group is 16 small squares, 25 groups make the centre square. */
const edges: Record<ChamberField, number> = {
  'ruled-area': 3,
  'large-square': 1,
  group: 0.2,
  'small-square': 0.05,
};
const DEPTH_MM = 0.1;

/**
 * µl counted in so many fields of an improved Neubauer chamber: edge² × 0.1 mm each (1 mm³ = 1 µl).
 * @example countedVolume('group', 10) // 0.04
 */
export const countedVolume = (field: ChamberField, fields: number): Microlitre =>
  microlitres(Number((edges[field] ** 2 * DEPTH_MM * fields).toPrecision(12)));
