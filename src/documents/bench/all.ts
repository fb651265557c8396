import { benchLabels } from './bench-labels.ts';
import { benchSheet } from './bench-sheet.ts';
import { homeSlip } from './home-slip.ts';

/** The papers of Bench. */
export const benchPapers = [benchSheet, benchLabels, homeSlip];
