/** The equations of an evaluation with nothing absorbed, written out as one sparse matrix: what a general solver would be given. */
import type { Equations } from '#domain/worth/equations.ts';
import { classesOf } from '#numeric/mixed/system.ts';

export type Assembled = { n: number; start: Int32Array; row: Int32Array; value: Float64Array; b: Float64Array };

/** Triplets of a symmetric matrix, summed into columns sorted by row. */
function sumTriplets(
  n: number,
  rows: Int32Array,
  columns: Int32Array,
  values: Float64Array,
): Pick<Assembled, 'start' | 'row' | 'value'> {
  const turn = (from: Int32Array, to: Int32Array, value: Float64Array) => {
    const start = new Int32Array(n + 1);
    for (let k = 0; k < from.length; k++)
      start[(from[k] as number) + 1] = (start[(from[k] as number) + 1] as number) + 1;
    for (let i = 0; i < n; i++) start[i + 1] = (start[i + 1] as number) + (start[i] as number);
    const next = start.slice();
    const [a, b, v] = [new Int32Array(from.length), new Int32Array(from.length), new Float64Array(from.length)];
    for (let k = 0; k < from.length; k++) {
      const at = next[from[k] as number] as number;
      next[from[k] as number] = at + 1;
      a[at] = from[k] as number;
      b[at] = to[k] as number;
      v[at] = value[k] as number;
    }
    return { start, a, b, v };
  };
  const byRow = turn(rows, columns, values);
  const byColumn = turn(byRow.b, byRow.a, byRow.v);
  const start = new Int32Array(n + 1);
  let at = 0;
  for (let j = 0; j < n; j++) {
    for (let k = byColumn.start[j] as number; k < (byColumn.start[j + 1] as number); k++) {
      const isSame = at > (start[j] as number) && byColumn.b[at - 1] === byColumn.b[k];
      if (isSame) byColumn.v[at - 1] = (byColumn.v[at - 1] as number) + (byColumn.v[k] as number);
      else {
        byColumn.b[at] = byColumn.b[k] as number;
        byColumn.v[at] = byColumn.v[k] as number;
        at++;
      }
    }
    start[j + 1] = at;
  }
  return { start, row: byColumn.b.subarray(0, at), value: byColumn.v.subarray(0, at) };
}

/** One trait: unknowns are the two effects of every node, then the classes. */
export function assembled({ system }: Equations): Assembled {
  const { recursion, inverseG, observations, features } = system;
  const classes = classesOf(system);
  const n = 2 * recursion.size + classes;
  const [rows, columns, values]: [number[][], number[][], number[][]] = [[], [], []];
  let [r, c, v]: [number[], number[], number[]] = [[], [], []];
  const b = new Float64Array(n);
  const flush = () => {
    rows.push(r);
    columns.push(c);
    values.push(v);
    [r, c, v] = [[], [], []];
  };
  const put = (i: number, j: number, value: number) => {
    r.push(i);
    c.push(j);
    v.push(value);
    if (r.length > 1e6) flush();
  };
  for (let i = 0; i < recursion.size; i++) {
    const terms: [number, number][] = [[i, 1]];
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      terms.push([recursion.older[k] as number, -(recursion.weight[k] as number)]);
    const own = 1 / (recursion.own[i] as number);
    for (const [a, x] of terms) {
      for (const [d, y] of terms) {
        for (let e = 0; e < 2; e++)
          for (let f = 0; f < 2; f++) put(2 * a + e, 2 * d + f, own * x * y * (inverseG[2 * e + f] as number));
      }
    }
  }
  for (let k = 0; k < classes; k++) {
    for (
      let record = observations.classStart[k] as number;
      record < (observations.classStart[k + 1] as number);
      record++
    ) {
      const terms: [number, number][] = [[2 * recursion.size + k, 1]];
      for (const feature of [observations.left[record] as number, observations.right[record] as number]) {
        if (feature < 0) continue;
        for (let m = features.start[feature] as number; m < (features.start[feature + 1] as number); m++) {
          terms.push([2 * (features.node[m] as number), features.first[m] as number]);
          if (features.second[m] !== 0)
            terms.push([2 * (features.node[m] as number) + 1, features.second[m] as number]);
        }
      }
      const w = observations.weight[record] as number;
      for (const [a, x] of terms) {
        for (const [d, y] of terms) put(a, d, w * x * y);
        b[a] = (b[a] as number) + w * x * (observations.y[record] as number);
      }
    }
  }
  flush();
  const total = rows.reduce((sum, part) => sum + part.length, 0);
  const [R, C, V] = [new Int32Array(total), new Int32Array(total), new Float64Array(total)];
  let at = 0;
  rows.forEach((part, k) => {
    R.set(part, at);
    C.set(columns[k] ?? [], at);
    V.set(values[k] ?? [], at);
    at += part.length;
  });
  return { n, ...sumTriplets(n, R, C, V), b };
}

/** Only the lower triangle, for the factorisation. */
export function lowerTriangle({ n, start, row, value, b }: Assembled): Assembled {
  const below = new Int32Array(n + 1);
  const [r, v] = [new Int32Array(row.length), new Float64Array(row.length)];
  let at = 0;
  for (let j = 0; j < n; j++) {
    for (let k = start[j] as number; k < (start[j + 1] as number); k++) {
      if ((row[k] as number) < j) continue;
      r[at] = row[k] as number;
      v[at++] = value[k] as number;
    }
    below[j + 1] = at;
  }
  return { n, start: below, row: r.slice(0, at), value: v.slice(0, at), b };
}

/** Pieces of the binary file the references read. */
export const pieces = ({ n, start, row, value, b }: Assembled): (Int32Array | Float64Array)[] => [
  Int32Array.of(n, row.length),
  start,
  row,
  value,
  b,
];
