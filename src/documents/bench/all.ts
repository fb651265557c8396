/** The papers of Bench. */
export const benchPapers = [];
