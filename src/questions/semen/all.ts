/** What a person can ask in Semen. */
export const semenQuestions = [];
