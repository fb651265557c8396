/** What a person can ask in Yard. */
export const yardQuestions = [];
