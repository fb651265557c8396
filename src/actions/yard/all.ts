/** What a person can do in Yard. */
export const yardActions = [];
