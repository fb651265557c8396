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
 * Columns are gathered through the younger neighbours of each row, then turned over once, which sorts them because the matrix is symmetric.
 */
export function inverseColumns(recursion: Recursion): Columns {
  const younger = youngerTerms(recursion);
  const unsorted = gatherColumns(recursion, younger);
  return turnedOver(unsorted);
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

/** Most entries column j can have: itself, its older neighbours, its younger ones and their older neighbours. */
function countEntries({ size, start }: Recursion, younger: Younger): number {
  let most = 0;
  for (let j = 0; j < size; j++) {
    most +=
      1 +
      (start[j + 1] as number) -
      (start[j] as number) +
      (younger.start[j + 1] as number) -
      (younger.start[j] as number);
    for (let c = younger.start[j] as number; c < (younger.start[j + 1] as number); c++) {
      const i = younger.row[c] as number;
      most += (start[i + 1] as number) - (start[i] as number);
    }
  }
  return most;
}

function gatherColumns(recursion: Recursion, younger: Younger): Columns {
  const { size, start, older, weight, own } = recursion;
  const room = countEntries(recursion, younger);
  const columnStart = new Int32Array(size + 1);
  const row = new Int32Array(room);
  const value = new Float64Array(room);
  /** Where each row stands in the present column (0 = nowhere yet). */
  const place = new Int32Array(size);
  let at = 0;
  for (let j = 0; j < size; j++) {
    const first = at;
    const inverse = 1 / (own[j] as number);
    row[at] = j;
    value[at++] = inverse;
    place[j] = at;
    for (let k = start[j] as number; k < (start[j + 1] as number); k++) {
      row[at] = older[k] as number;
      value[at++] = -(weight[k] as number) * inverse;
      place[older[k] as number] = at;
    }
    for (let c = younger.start[j] as number; c < (younger.start[j + 1] as number); c++) {
      const i = younger.row[c] as number;
      const scaled = (younger.weight[c] as number) / (own[i] as number);
      const here = (place[i] as number) - 1;
      if (here >= first) value[here] = (value[here] as number) - scaled;
      else {
        row[at] = i;
        value[at++] = -scaled;
        place[i] = at;
      }
      for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
        const other = older[k] as number;
        const known = (place[other] as number) - 1;
        const add = scaled * (weight[k] as number);
        if (known >= first) value[known] = (value[known] as number) + add;
        else {
          row[at] = other;
          value[at++] = add;
          place[other] = at;
        }
      }
    }
    columnStart[j + 1] = at;
  }
  return { size, start: columnStart, row: row.subarray(0, at), value: value.subarray(0, at) };
}

function turnedOver({ size, start, row, value }: Columns): Columns {
  const count = new Int32Array(size + 1);
  for (let k = 0; k < row.length; k++) count[(row[k] as number) + 1] = (count[(row[k] as number) + 1] as number) + 1;
  for (let i = 0; i < size; i++) count[i + 1] = (count[i + 1] as number) + (count[i] as number);
  const next = count.slice();
  const turnedRow = new Int32Array(row.length);
  const turnedValue = new Float64Array(row.length);
  for (let j = 0; j < size; j++) {
    for (let k = start[j] as number; k < (start[j + 1] as number); k++) {
      const i = row[k] as number;
      const at = next[i] as number;
      next[i] = at + 1;
      turnedRow[at] = j;
      turnedValue[at] = value[k] as number;
    }
  }
  return { size, start: count, row: turnedRow, value: turnedValue };
}
