/** English words of Bench. Keys begin with `bench.`, `action.` or `problem.`. */
export const bench = {} as const;
