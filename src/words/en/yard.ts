/** English words of Yard. Keys begin with `yard.`, `action.` or `problem.`. */
export const yard = {} as const;
