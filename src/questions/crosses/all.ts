/** What a person can ask in Crosses. */
export const crossesQuestions = [];
