/** English words of Semen. Keys begin with `semen.`, `action.` or `problem.`. */
export const semen = {} as const;
