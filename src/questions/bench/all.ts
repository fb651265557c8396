/** What a person can ask in Bench. */
export const benchQuestions = [];
