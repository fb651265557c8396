import { nucLabels } from './nuc-labels.ts';
import { roundSheet } from './round-sheet.ts';
import { springSheet } from './spring-sheet.ts';

/** The papers of Yard. */
export const yardPapers = [roundSheet, springSheet, nucLabels];
