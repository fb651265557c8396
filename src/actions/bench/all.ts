/** What a person can do in Bench. */
export const benchActions = [];
