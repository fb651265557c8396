/** What a person can do in Semen. */
export const semenActions = [];
