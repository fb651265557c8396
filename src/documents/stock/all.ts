/** The papers of Stock. */
export const stockPapers = [];
