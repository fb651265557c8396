import type { Recursion } from './recursion.ts';

/** A symmetric matrix by columns (compressed sparse columns), rows rising within a column, both triangles. */
export type Columns = {
  readonly size: number;
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly value: Float64Array;
};

/**
 * The inverse of the covariance matrix of a recursion, `Σ_i v_i v_i' / own_i` with v_i = e_i − Σ w e_older (Henderson 1976, Biometrics 32:69; Quaas 1976,
 * Biometrics 32:949, for the diploid case). Every own variance must be above 0: see {@link ./positive-part.ts}.
 *
 * The lower triangle is gathered column by column through the younger neighbours of each row, then mirrored.
 */
export function inverseColumns(recursion: Recursion): Columns {
  return mirrored(gatherLower(recursion, youngerTerms(recursion)));
}

/** For each row the rows it is an older neighbour of, with its weight there. */
type Younger = { start: Int32Array; row: Int32Array; weight: Float64Array };

function youngerTerms({ size, start, older, weight }: Recursion): Younger {
  const from = new Int32Array(size + 1);
  for (let k = 0; k < older.length; k++)
    from[(older[k] as number) + 1] = (from[(older[k] as number) + 1] as number) + 1;
  for (let i = 0; i < size; i++) from[i + 1] = (from[i + 1] as number) + (from[i] as number);
  const next = from.slice();
  const row = new Int32Array(older.length);
  const w = new Float64Array(older.length);
  for (let i = 0; i < size; i++) {
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      const j = older[k] as number;
      const at = next[j] as number;
      next[j] = at + 1;
      row[at] = i;
      w[at] = weight[k] as number;
    }
  }
  return { start: from, row, weight: w };
}

/** Most entries at or below the diagonal of all columns: itself, its younger ones and their older neighbours. */
function countEntries({ size, start }: Recursion, younger: Younger): number {
  let most = size + younger.row.length;
  for (let i = 0; i < size; i++) {
    const terms = (start[i + 1] as number) - (start[i] as number);
    most += (terms * (terms - 1)) / 2;
  }
  return most;
}

/**
 * Entries at or below the diagonal, rows rising within a column. Rows beside each other with the same older neighbours, weights and own variance are taken
 * together: what they add between their older neighbours is added once.
 */
function gatherLower(recursion: Recursion, younger: Younger): Columns {
  const { size, start, older, weight, own } = recursion;
  const room = countEntries(recursion, younger);
  const columnStart = new Int32Array(size + 1);
  const row = new Int32Array(room);
  const value = new Float64Array(room);
  /** Where each row stands in the present column plus one; older marks are below `first`. */
  const place = new Int32Array(size);
  let at = 0;
  for (let j = 0; j < size; j++) {
    const first = at;
    row[at] = j;
    at++;
    let diagonal = 1 / (own[j] as number);
    const stop = younger.start[j + 1] as number;
    let isRising = true;
    let c = younger.start[j] as number;
    while (c < stop) {
      const i = younger.row[c] as number;
      const ofOne = (younger.weight[c] as number) / (own[i] as number);
      let alike = 1;
      while (c + alike < stop && younger.row[c + alike] === i + alike && isAlike(recursion, i, i + alike)) alike++;
      for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
        const other = older[k] as number;
        if (other < j) continue;
        const add = alike * ofOne * (weight[k] as number);
        if (other === j) {
          diagonal += add;
          continue;
        }
        const known = (place[other] as number) - 1;
        if (known > first) value[known] = (value[known] as number) + add;
        else {
          if (other < (row[at - 1] as number)) isRising = false;
          row[at] = other;
          value[at++] = add;
          place[other] = at;
        }
      }
      for (let s = 0; s < alike; s++) {
        const known = (place[i + s] as number) - 1;
        if (known > first) value[known] = (value[known] as number) - ofOne;
        else {
          if (i + s < (row[at - 1] as number)) isRising = false;
          row[at] = i + s;
          value[at++] = -ofOne;
          place[i + s] = at;
        }
      }
      c += alike;
    }
    value[first] = diagonal;
    if (!isRising) sortPart(row, value, first + 1, at);
    columnStart[j + 1] = at;
  }
  return { size, start: columnStart, row: row.subarray(0, at), value: value.subarray(0, at) };
}

function isAlike({ start, older, weight, own }: Recursion, i: number, other: number): boolean {
  const terms = (start[i + 1] as number) - (start[i] as number);
  if ((start[other + 1] as number) - (start[other] as number) !== terms || own[i] !== own[other]) return false;
  for (let k = 0; k < terms; k++) {
    const [a, b] = [(start[i] as number) + k, (start[other] as number) + k];
    if (older[a] !== older[b] || weight[a] !== weight[b]) return false;
  }
  return true;
}

/** Sorts entries `from … to−1` by row: by insertion where they are few or nearly sorted, else over an index. */
function sortPart(row: Int32Array, value: Float64Array, from: number, to: number): void {
  if (to - from > 64) {
    const index = Int32Array.from({ length: to - from }, (_, k) => from + k).sort(
      (a, b) => (row[a] as number) - (row[b] as number),
    );
    const [rows, values] = [row.slice(from, to), value.slice(from, to)];
    for (let k = 0; k < index.length; k++) {
      row[from + k] = rows[(index[k] as number) - from] as number;
      value[from + k] = values[(index[k] as number) - from] as number;
    }
    return;
  }
  for (let k = from + 1; k < to; k++) {
    const [r, v] = [row[k] as number, value[k] as number];
    let hole = k;
    for (; hole > from && (row[hole - 1] as number) > r; hole--) {
      row[hole] = row[hole - 1] as number;
      value[hole] = value[hole - 1] as number;
    }
    row[hole] = r;
    value[hole] = v;
  }
}

/** Both triangles from the lower one: a column holds its mirror entries, then its own. */
function mirrored({ size, start, row, value }: Columns): Columns {
  const whole = new Int32Array(size + 1);
  for (let j = 0; j < size; j++) {
    const from = start[j] as number;
    const to = start[j + 1] as number;
    whole[j + 1] = (whole[j + 1] as number) + to - from;
    for (let k = from + 1; k < to; k++) whole[(row[k] as number) + 1] = (whole[(row[k] as number) + 1] as number) + 1;
  }
  for (let j = 0; j < size; j++) whole[j + 1] = (whole[j + 1] as number) + (whole[j] as number);
  const next = whole.slice(0, size);
  const outRow = new Int32Array(whole[size] as number);
  const outValue = new Float64Array(whole[size] as number);
  for (let j = 0; j < size; j++) {
    const from = start[j] as number;
    const to = start[j + 1] as number;
    let own = (whole[j + 1] as number) - (to - from);
    outRow[own] = j;
    outValue[own++] = value[from] as number;
    for (let k = from + 1; k < to; k++) {
      const i = row[k] as number;
      const v = value[k] as number;
      outRow[own] = i;
      outValue[own++] = v;
      const mirror = next[i] as number;
      next[i] = mirror + 1;
      outRow[mirror] = j;
      outValue[mirror] = v;
    }
  }
  return { size, start: whole, row: outRow, value: outValue };
}
