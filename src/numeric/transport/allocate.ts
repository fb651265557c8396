/**
 * Whole units sent from sources to sinks at least cost: the transportation problem, by successive shortest paths (Busacker and Gowen 1960; Ahuja,
 * Magnanti and Orlin 1993, § 9.7). Exact; for a few hundred rows and columns.
 */
export type Transport = {
  /** Units each row sends, and the most each column takes: whole numbers ≥ 0. */
  readonly supply: readonly number[];
  readonly demand: readonly number[];
  /** Cost of a unit, row after row; Infinity where nothing may go. */
  readonly cost: (row: number, column: number) => number;
};

/**
 * Units from each row to each column (`rows × columns`, a list a row), all rows emptied at the least total cost, or `null` when the forbidden pairs, or columns
 * that take less than the rows send, leave no way. Costs may be below 0. Time: a shortest path, (rows + columns) · rows · columns at worst, for each lot sent.
 * @example allocate({ supply: [2, 1], demand: [1, 2], cost: (i, j) => [[1, 2], [4, 3]][i]?.[j] ?? Infinity }) // [[1, 1], [0, 1]]
 */
export function allocate({ supply, demand, cost }: Transport): number[][] | null {
  const [m, n] = [supply.length, demand.length];
  const flow = Array.from({ length: m }, () => Array<number>(n).fill(0));
  const [left, open] = [[...supply], [...demand]];
  while (left.some((units) => units > 0)) {
    const path = cheapestPath({ flow, left, open, cost });
    if (path === null) return null;
    const units = path.reduce(
      (most, { row, column, forward }) => (forward ? most : Math.min(most, flow[row]?.[column] ?? 0)),
      Math.min(left[path[0]?.row ?? 0] ?? 0, open[path.at(-1)?.column ?? 0] ?? 0),
    );
    for (const { row, column, forward } of path)
      (flow[row] as number[])[column] = (flow[row]?.[column] ?? 0) + (forward ? units : -units);
    left[path[0]?.row ?? 0] = (left[path[0]?.row ?? 0] ?? 0) - units;
    open[path.at(-1)?.column ?? 0] = (open[path.at(-1)?.column ?? 0] ?? 0) - units;
  }
  return flow;
}

type Step = { row: number; column: number; forward: boolean };
type Network = { flow: number[][]; left: number[]; open: number[]; cost: Transport['cost'] };

/** The cheapest way from a row with units left to a column with room, by Bellman and Ford over rows and columns. */
function cheapestPath({ flow, left, open, cost }: Network): Step[] | null {
  const [m, n] = [left.length, open.length];
  const rowCost = left.map((units) => (units > 0 ? 0 : Number.POSITIVE_INFINITY));
  const columnCost = Array<number>(n).fill(Number.POSITIVE_INFINITY);
  const rowFrom = Array<number>(m).fill(-1);
  const columnFrom = Array<number>(n).fill(-1);
  for (let changed = true; changed; ) {
    changed = false;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < n; j++) {
        const price = cost(i, j);
        if ((rowCost[i] as number) + price < (columnCost[j] as number) - 1e-12) {
          columnCost[j] = (rowCost[i] as number) + price;
          columnFrom[j] = i;
          changed = true;
        }
        if ((flow[i]?.[j] ?? 0) > 0 && (columnCost[j] as number) - price < (rowCost[i] as number) - 1e-12) {
          rowCost[i] = (columnCost[j] as number) - price;
          rowFrom[i] = j;
          changed = true;
        }
      }
    }
  }
  let end = -1;
  for (let j = 0; j < n; j++) {
    if (
      (open[j] as number) > 0 &&
      (columnCost[j] as number) < (end < 0 ? Number.POSITIVE_INFINITY : (columnCost[end] as number))
    )
      end = j;
  }
  if (end < 0) return null;
  const path: Step[] = [];
  for (let column = end; ; ) {
    const row = columnFrom[column] as number;
    path.unshift({ row, column, forward: true });
    if ((rowFrom[row] as number) < 0) return path;
    column = rowFrom[row] as number;
    path.unshift({ row, column, forward: false });
  }
}

/**
 * Whole numbers that add up to `total`, nearest to the shares (≥ 0, in any measure; all 0 = equal) by largest remainder, none above its `most`: less
 * than `total` together when those leave no room. Of equal remainders the first is filled up.
 * @example wholeShares([0.5, 0.3, 0.2], 7) // [4, 2, 1]
 */
export function wholeShares(
  shares: readonly number[],
  total: number,
  most: readonly number[] = shares.map(() => total),
): number[] {
  const sum = shares.reduce((a, b) => a + b, 0);
  const wanted = shares.map((share) => (sum > 0 ? (share / sum) * total : total / shares.length));
  const whole = wanted.map((units, i) => Math.min(Math.floor(units + 1e-9), most[i] ?? total));
  let left = total - whole.reduce((a, b) => a + b, 0);
  while (left > 0) {
    let best = -1;
    for (let i = 0; i < whole.length; i++) {
      if ((whole[i] as number) >= (most[i] ?? total)) continue;
      const short = (k: number) => (wanted[k] as number) - (whole[k] as number);
      if (best < 0 || short(i) > short(best) + 1e-12) best = i;
    }
    if (best < 0) break;
    whole[best] = (whole[best] as number) + 1;
    left--;
  }
  return whole;
}
