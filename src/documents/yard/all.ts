/** The papers of Yard. */
export const yardPapers = [];
