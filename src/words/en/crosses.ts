/** English words of Crosses. Keys begin with `crosses.`, `action.` or `problem.`. */
export const crosses = {} as const;
