/** The papers of Crosses. */
export const crossesPapers = [];
