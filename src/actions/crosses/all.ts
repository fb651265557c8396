/** What a person can do in Crosses. */
export const crossesActions = [];
