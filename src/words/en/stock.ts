/** English words of Stock. Keys begin with `stock.`, `action.` or `problem.`. */
export const stock = {} as const;
