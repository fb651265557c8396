import { crossSlip } from './cross-slip.ts';

/** The papers of Crosses. */
export const crossesPapers = [crossSlip];
