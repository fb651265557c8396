/** English words of Today. Keys begin with `today.`, `action.` or `problem.`. */
export const today = {} as const;
