import { type Recursion, SHAPE, shapeOf } from './recursion.ts';

/** A symmetric matrix by columns: those of column j are `row` and `value` at `start[j] … start[j+1]−1`, rows rising, both triangles. */
export type Columns = {
  readonly size: number;
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly value: Float64Array;
};

/**
 * The inverse of the covariance matrix of a recursion, `Σ_i v_i v_i' / own_i` with v_i = e_i − Σ w e_older (Henderson 1976, Biometrics 32:69; Quaas
 * 1976, Biometrics 32:949, for the diploid case). Every own variance must be above 0: see {@link ./positive-part.ts}.
 *
 * Column by column in full, from the older neighbours of a row and from its families of younger ones: rows beside each other with the same older
 * neighbours, weights and own variance are taken together, so what they add between their older neighbours is added once. Time and memory: the
 * entries written, 12 bytes each.
 * @example inverseColumns(positivePart(recursion).recursion).value // entries of A⁻¹, column after column
 */
export function inverseColumns(recursion: Recursion): Columns {
  const { size } = recursion;
  const families = familiesOf(recursion);
  const room = mostEntries(recursion, families);
  const out: Writing = {
    start: new Int32Array(size + 1),
    row: new Int32Array(room),
    value: new Float64Array(room),
    at: 0,
  };
  const above = makeNear(size);
  const near = makeNear(size);
  for (let f = 0; f < families.count; f++) {
    const first = families.whole[8 * f + FIRST] as number;
    const ownInverse = families.line[4 * f] as number;
    above.count = 0;
    addOlder(recursion, above, first);
    if (above.count > 1) sortNear(above);
    for (let j = first; j < (families.whole[8 * f + STOP] as number); j++) {
      if (families.start[j] === families.start[j + 1]) writeChildless(above, j, ownInverse, out);
      else writeParent(recursion, families, near, j, out);
      out.start[j + 1] = out.at;
    }
  }
  return { size, start: out.start, row: out.row.subarray(0, out.at), value: out.value.subarray(0, out.at) };
}

type Writing = { readonly start: Int32Array; readonly row: Int32Array; readonly value: Float64Array; at: number };

/**
 * Rows beside each other with the same terms and own variance, and the families below each row. What a column needs of a family lies in 32 bytes
 * (four doubles, or eight integers of the same memory), because families of a pool lie far apart: 1/own, then first row, row after the last, first
 * two older rows and shape.
 */
type Families = {
  readonly count: number;
  readonly line: Float64Array;
  readonly whole: Int32Array;
  /** Families of each row: `family[start[j] … start[j+1]−1]`, rising. */
  readonly start: Int32Array;
  readonly family: Int32Array;
};

const FIRST = 2;
const STOP = 3;
const OLDER = 4;
const FAMILY_SHAPE = 6;

function familiesOf(recursion: Recursion): Families {
  const { size, start, older, own } = recursion;
  const line = new Float64Array(4 * size);
  const whole = new Int32Array(line.buffer);
  const below = new Int32Array(size + 1);
  let count = 0;
  let links = 0;
  for (let i = 0; i < size; i++) {
    if (i > 0 && isAlike(recursion, i - 1, i)) continue;
    const [from, to] = [start[i] as number, start[i + 1] as number];
    if (count > 0) whole[8 * (count - 1) + STOP] = i;
    line[4 * count] = 1 / (own[i] as number);
    whole[8 * count + FIRST] = i;
    if (from < to) whole[8 * count + OLDER] = older[from] as number;
    if (from + 1 < to) whole[8 * count + OLDER + 1] = older[from + 1] as number;
    whole[8 * count + FAMILY_SHAPE] = shapeOf(recursion, i);
    count++;
    for (let k = from; k < to; k++) below[older[k] as number] = (below[older[k] as number] as number) + 1;
    links += to - from;
  }
  if (count > 0) whole[8 * (count - 1) + STOP] = size;
  for (let i = 1; i <= size; i++) below[i] = (below[i] as number) + (below[i - 1] as number);
  const family = new Int32Array(links);
  // from the last family to the first, so that each row's come in order and `below` ends as where they begin
  for (let f = count - 1; f >= 0; f--) {
    const i = whole[8 * f + FIRST] as number;
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      const at = (below[older[k] as number] as number) - 1;
      below[older[k] as number] = at;
      family[at] = f;
    }
  }
  return { count, line, whole, start: below, family };
}

function isAlike({ start, older, weight, own }: Recursion, i: number, other: number): boolean {
  const from = start[i] as number;
  const second = start[other] as number;
  const terms = (start[i + 1] as number) - from;
  if ((start[other + 1] as number) - second !== terms) return false;
  for (let k = 0; k < terms; k++) if (older[from + k] !== older[second + k]) return false;
  for (let k = 0; k < terms; k++) if (weight[from + k] !== weight[second + k]) return false;
  return own[i] === own[other];
}

/** Most entries of all columns: the diagonal, each term in both triangles, and the pairs among the older neighbours of each family. */
function mostEntries({ size, start, older }: Recursion, { count, whole }: Families): number {
  let most = size + 2 * older.length;
  for (let f = 0; f < count; f++) {
    const i = whole[8 * f + FIRST] as number;
    const terms = (start[i + 1] as number) - (start[i] as number);
    most += terms * (terms - 1);
  }
  return most;
}

/** Entries of one column but for its diagonal and its younger rows: its older neighbours and the other older neighbours of its families. */
type Near = {
  row: Int32Array;
  value: Float64Array;
  count: number;
  /** Where a row stands among them, if it does: to be checked, never cleared. */
  readonly place: Int32Array;
};

function addNear(near: Near, row: number, value: number): void {
  const known = placeOf(near, row);
  if (known >= 0) near.value[known] = (near.value[known] as number) + value;
  else addNew(near, row, value);
}

/** So many are looked through; from then on their places are written down. */
const FEW = 16;

/** Where a row stands among the entries, or −1. */
function placeOf(near: Near, row: number): number {
  if (near.count >= FEW) {
    const known = near.place[row] as number;
    return known < near.count && near.row[known] === row ? known : -1;
  }
  for (let k = 0; k < near.count; k++) if (near.row[k] === row) return k;
  return -1;
}

/** Adds an entry of a row that does not stand among them. */
function addNew(near: Near, row: number, value: number): void {
  if (near.count === near.row.length) {
    const [rows, values] = [new Int32Array(2 * near.count), new Float64Array(2 * near.count)];
    rows.set(near.row);
    values.set(near.value);
    near.row = rows;
    near.value = values;
  }
  near.row[near.count] = row;
  near.value[near.count++] = value;
  if (near.count > FEW) near.place[row] = near.count - 1;
  else if (near.count === FEW) for (let k = 0; k < FEW; k++) near.place[near.row[k] as number] = k;
}

const makeNear = (size: number): Near => ({
  row: new Int32Array(64),
  value: new Float64Array(64),
  count: 0,
  place: new Int32Array(size),
});

/** Adds the older neighbours of a row (each stands there once). */
function addOlder({ start, older, weight, own }: Recursion, near: Near, j: number): void {
  const ownInverse = 1 / (own[j] as number);
  for (let k = start[j] as number; k < (start[j + 1] as number); k++)
    addNew(near, older[k] as number, -(weight[k] as number) * ownInverse);
}

/** A column of a row without younger ones: its older neighbours and its diagonal. */
function writeChildless(above: Near, j: number, diagonal: number, out: Writing): void {
  const { row, value } = out;
  let at = out.at;
  for (let n = 0; n < above.count; n++) {
    row[at] = above.row[n] as number;
    value[at++] = above.value[n] as number;
  }
  row[at] = j;
  value[at++] = diagonal;
  out.at = at;
}

/** Gathers what stands near column j; answers its diagonal. */
function gatherNear(recursion: Recursion, families: Families, near: Near, j: number): number {
  const { start, older, weight, own } = recursion;
  let diagonal = 1 / (own[j] as number);
  near.count = 0;
  addOlder(recursion, near, j);
  const { line, whole } = families;
  for (let c = families.start[j] as number; c < (families.start[j + 1] as number); c++) {
    const f = families.family[c] as number;
    const at = 8 * f;
    const ofAll = (line[4 * f] as number) * ((whole[at + STOP] as number) - (whole[at + FIRST] as number));
    const shape = whole[at + FAMILY_SHAPE] as number;
    if (shape === SHAPE.halfAndAll) {
      const isHalf = whole[at + OLDER] === j;
      diagonal += isHalf ? 0.25 * ofAll : ofAll;
      addNear(near, whole[at + (isHalf ? OLDER + 1 : OLDER)] as number, 0.5 * ofAll);
    } else if (shape === SHAPE.half) diagonal += 0.25 * ofAll;
    else {
      const from = start[whole[at + FIRST] as number] as number;
      const to = start[(whole[at + FIRST] as number) + 1] as number;
      const wj = ofAll * weightOf(j, older, weight, from);
      for (let k = from; k < to; k++) {
        const add = wj * (weight[k] as number);
        if (older[k] === j) diagonal += add;
        else addNear(near, older[k] as number, add);
      }
    }
  }
  if (near.count > 1) sortNear(near);
  return diagonal;
}

/** Weight of older row j among terms that begin at `from` and contain it. */
function weightOf(j: number, older: Int32Array, weight: Float64Array, from: number): number {
  let k = from;
  while (older[k] !== j) k++;
  return weight[k] as number;
}

/** Sorts by row: by insertion where they are few or nearly sorted, else over an index. */
function sortNear({ row, value, count }: Near): void {
  if (count > 64) {
    const index = Int32Array.from({ length: count }, (_, k) => k).sort(
      (a, b) => (row[a] as number) - (row[b] as number),
    );
    const [rows, values] = [row.slice(0, count), value.slice(0, count)];
    for (let k = 0; k < count; k++) {
      row[k] = rows[index[k] as number] as number;
      value[k] = values[index[k] as number] as number;
    }
    return;
  }
  for (let k = 1; k < count; k++) {
    const [r, v] = [row[k] as number, value[k] as number];
    let hole = k;
    for (; hole > 0 && (row[hole - 1] as number) > r; hole--) {
      row[hole] = row[hole - 1] as number;
      value[hole] = value[hole - 1] as number;
    }
    row[hole] = r;
    value[hole] = v;
  }
}

/** Writes the column of a row with younger ones: what is near and above it, its diagonal, then its younger rows with what else is near below. */
function writeParent(recursion: Recursion, families: Families, near: Near, j: number, out: Writing): void {
  const { start, older, weight } = recursion;
  const { line, whole } = families;
  const { row, value } = out;
  const diagonal = gatherNear(recursion, families, near, j);
  const { row: nearRow, value: nearValue, count } = near;
  let at = out.at;
  let n = 0;
  for (; n < count && (nearRow[n] as number) < j; n++) {
    row[at] = nearRow[n] as number;
    value[at++] = nearValue[n] as number;
  }
  row[at] = j;
  value[at++] = diagonal;
  for (let c = families.start[j] as number; c < (families.start[j + 1] as number); c++) {
    const f = families.family[c] as number;
    const first = whole[8 * f + FIRST] as number;
    const stop = whole[8 * f + STOP] as number;
    const shape = whole[8 * f + FAMILY_SHAPE] as number;
    const isHalf = shape === SHAPE.half || (shape === SHAPE.halfAndAll && whole[8 * f + OLDER] === j);
    const w = isHalf ? 0.5 : shape === SHAPE.halfAndAll ? 1 : weightOf(j, older, weight, start[first] as number);
    const v = -w * (line[4 * f] as number);
    for (let i = first; i < stop; i++) {
      for (; n < count && (nearRow[n] as number) < i; n++) {
        row[at] = nearRow[n] as number;
        value[at++] = nearValue[n] as number;
      }
      row[at] = i;
      value[at++] = n < count && nearRow[n] === i ? v + (nearValue[n++] as number) : v;
    }
  }
  for (; n < count; n++) {
    row[at] = nearRow[n] as number;
    value[at++] = nearValue[n] as number;
  }
  out.at = at;
}
