/** What a person can ask in Today. */
export const todayQuestions = [];
