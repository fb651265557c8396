import { queenCard } from './queen-card.ts';

/** The papers of Stock. */
export const stockPapers = [queenCard];
