/** What a person can ask in Rearing. */
export const rearingQuestions = [];
