/** What a person can ask in Stock. */
export const stockQuestions = [];
