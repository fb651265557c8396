/** What a person can do in Rearing. */
export const rearingActions = [];
