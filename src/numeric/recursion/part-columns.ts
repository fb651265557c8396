import type { Recursion } from './recursion.ts';

/** Covariances of one row with others, `others.length` numbers in their order; the array is used again by the next call. */
export type PartOfColumn = (one: number, others: ArrayLike<number>) => Float64Array;

/**
 * Parts of columns of the covariance matrix of a recursion: one row with a few others, visiting only their older rows, each once however many others
 * stand below it (a walk a pair would visit it every time). `(I−W)' z = e_one` down those rows, `(I−W) v = D z` up them (Colleau 2002, Genet Sel
 * Evol 34:409, has the whole column). Time: the rows visited, sorted. Memory: 20 bytes a row of the recursion, once.
 * @example partColumns(workedRecursion)(2, [0, 2]) // [0.5, 1]; cov(x₂, x₀) and var(x₂)
 */
export function partColumns(recursion: Recursion): PartOfColumn {
  const { size, start, older, weight, own } = recursion;
  const z = new Float64Array(size);
  const v = new Float64Array(size);
  const seen = new Int32Array(size);
  let mark = 0;
  let rows = new Int32Array(64);
  let out = new Float64Array(0);
  let count = 0;
  const see = (row: number) => {
    if (seen[row] === mark) return;
    seen[row] = mark;
    if (count === rows.length) {
      const more = new Int32Array(2 * count);
      more.set(rows);
      rows = more;
    }
    rows[count++] = row;
  };
  return (one, others) => {
    mark++;
    count = 0;
    see(one);
    for (let k = 0; k < others.length; k++) see(others[k] as number);
    for (let next = 0; next < count; next++) {
      const row = rows[next] as number;
      for (let k = start[row] as number; k < (start[row + 1] as number); k++) see(older[k] as number);
    }
    const visited = rows.subarray(0, count).sort();
    z[one] = 1;
    for (let n = count - 1; n >= 0; n--) {
      const row = visited[n] as number;
      const of = z[row] as number;
      if (of === 0) continue;
      for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
        const j = older[k] as number;
        z[j] = (z[j] as number) + (weight[k] as number) * of;
      }
    }
    for (let n = 0; n < count; n++) {
      const row = visited[n] as number;
      let sum = (z[row] as number) * (own[row] as number);
      for (let k = start[row] as number; k < (start[row + 1] as number); k++)
        sum += (weight[k] as number) * (v[older[k] as number] as number);
      v[row] = sum;
      z[row] = 0;
    }
    if (out.length < others.length) out = new Float64Array(2 * others.length);
    for (let k = 0; k < others.length; k++) out[k] = v[others[k] as number] as number;
    return out.subarray(0, others.length);
  };
}
