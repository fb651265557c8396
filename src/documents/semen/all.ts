/** The papers of Semen. */
export const semenPapers = [];
