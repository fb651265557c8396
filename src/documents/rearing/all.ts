/** The papers of Rearing. */
export const rearingPapers = [];
