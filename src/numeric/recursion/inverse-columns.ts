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
 * @example inverseColumns(workedRecursion).value // [2, 2, -2, 2, 6, -4, -2, -4, 4]; diag(1, 2, 0) + 4 vv' with v = (−½, −1, 1)
 */
export function inverseColumns(recursion: Recursion): Columns {
  const { size } = recursion;
  const families = familiesOf(recursion);
  const below = belowOf(recursion, families);
  const out: Writing = {
    start: new Int32Array(size + 1),
    row: new Int32Array(families.entries),
    value: new Float64Array(families.entries),
    at: 0,
  };
  const above = makeNear(size);
  const near = makeNear(size);
  for (let f = 0; f < families.count; f++) {
    const first = families.first[f] as number;
    const stop = families.first[f + 1] as number;
    for (let j = first; j < stop; ) {
      if (below.start[j] !== below.start[j + 1]) writeParent(recursion, below, near, j++, out);
      else {
        let to = j + 1;
        while (to < stop && below.start[to] === below.start[to + 1]) to++;
        above.count = 0;
        addOlder(recursion, above, j);
        sortNear(above);
        writeChildless(above, { from: j, to, diagonal: 1 / (recursion.own[j] as number) }, out);
        j = to;
      }
    }
  }
  return { size, start: out.start, row: out.row.subarray(0, out.at), value: out.value.subarray(0, out.at) };
}

type Writing = { readonly start: Int32Array; readonly row: Int32Array; readonly value: Float64Array; at: number };

/** Rows beside each other with the same terms and own variance: family f is the rows `first[f] … first[f+1]−1`; `below` counts those of each row. */
type Families = {
  readonly count: number;
  readonly first: Int32Array;
  readonly below: Int32Array;
  /** Most entries of all columns: the diagonal, each term in both triangles, and the pairs among the older neighbours of each family. */
  readonly entries: number;
};

function familiesOf({ size, start, older, weight, own }: Recursion): Families {
  const first = new Int32Array(size + 1);
  const below = new Int32Array(size + 1);
  let count = 0;
  let last = 0;
  let entries = size + 2 * older.length;
  for (let i = 0; i < size; i++) {
    const from = start[i] as number;
    const to = start[i + 1] as number;
    if (i > 0 && from - last === to - from && own[i] === own[i - 1]) {
      let k = from;
      while (k < to && older[k] === older[k - from + last] && weight[k] === weight[k - from + last]) k++;
      if (k === to) {
        last = from;
        continue;
      }
    }
    last = from;
    first[count++] = i;
    entries += (to - from) * (to - from - 1);
    for (let k = from; k < to; k++) {
      const j = older[k] as number;
      below[j] = (below[j] as number) + 1;
    }
  }
  first[count] = size;
  return { count, first, below, entries };
}

/**
 * The families below each row, rising, as lines `start[j] … start[j+1]−1` of 32 bytes (four doubles, or eight integers of the same memory), in the
 * order they are read: 1/own of each of the family, then its first row, the row after its last, its other older row and what it takes of this one.
 */
type Below = { readonly start: Int32Array; readonly line: Float64Array; readonly whole: Int32Array };

const FIRST = 2;
const STOP = 3;
const OTHER = 4;
const TAKES = 5;
/** A family takes half of the row and nothing else; half of it and all of another; all of it and half of another; anything else. */
const HALF = 0;
const HALF_BESIDE = 1;
const ALL_BESIDE = 2;
const ANY = 3;

function belowOf(recursion: Recursion, { count, first, below: start }: Families): Below {
  const { size, start: terms, older, own } = recursion;
  for (let j = 1; j <= size; j++) start[j] = (start[j] as number) + (start[j - 1] as number);
  const line = new Float64Array(4 * (start[size] as number));
  const whole = new Int32Array(line.buffer);
  // from the last family to the first, so that each row's come in order and `start` ends as where they begin
  for (let f = count - 1; f >= 0; f--) {
    const i = first[f] as number;
    const [from, to] = [terms[i] as number, terms[i + 1] as number];
    if (from === to) continue;
    const shape = shapeOf(recursion, i);
    const ownInverse = 1 / (own[i] as number);
    for (let k = from; k < to; k++) {
      const j = older[k] as number;
      const at = (start[j] as number) - 1;
      start[j] = at;
      line[4 * at] = ownInverse;
      whole[8 * at + FIRST] = i;
      whole[8 * at + STOP] = first[f + 1] as number;
      whole[8 * at + OTHER] = older[from + to - 1 - k] as number;
      whole[8 * at + TAKES] =
        shape === SHAPE.half ? HALF : shape !== SHAPE.halfAndAll ? ANY : k === from ? HALF_BESIDE : ALL_BESIDE;
    }
  }
  return { start, line, whole };
}

/**
 * Entries of one column but for its diagonal and its younger rows: its older neighbours and the other older neighbours of its families. Rows rise
 * while they are fewer than {@link FEW}; from then on they stand as they come, to be sorted in the end.
 */
type Near = {
  row: Int32Array;
  value: Float64Array;
  count: number;
  /** Where a row stands among many, if it does: to be checked, never cleared; `null` until they are many for the first time. */
  place: Int32Array | null;
  readonly size: number;
};

/** So many are looked through; from then on their places are written down. */
const FEW = 16;

function addNear(near: Near, row: number, value: number): void {
  if (near.count < FEW) addInOrder(near, row, value);
  else addByPlace(near, row, value);
}

function addInOrder(near: Near, row: number, value: number): void {
  const { row: rows, value: values, count } = near;
  let at = count;
  while (at > 0 && (rows[at - 1] as number) > row) at--;
  if (at > 0 && rows[at - 1] === row) {
    values[at - 1] = (values[at - 1] as number) + value;
    return;
  }
  for (let k = count; k > at; k--) {
    rows[k] = rows[k - 1] as number;
    values[k] = values[k - 1] as number;
  }
  rows[at] = row;
  values[at] = value;
  near.count = count + 1;
}

function addByPlace(near: Near, row: number, value: number): void {
  const place = placesOf(near);
  const known = place[row] as number;
  if (known < near.count && near.row[known] === row) {
    near.value[known] = (near.value[known] as number) + value;
    return;
  }
  if (near.count === near.row.length) {
    const [rows, values] = [new Int32Array(2 * near.count), new Float64Array(2 * near.count)];
    rows.set(near.row);
    values.set(near.value);
    near.row = rows;
    near.value = values;
  }
  place[row] = near.count;
  near.row[near.count] = row;
  near.value[near.count++] = value;
}

/** The places of many, written down when they become so. */
function placesOf(near: Near): Int32Array {
  near.place ??= new Int32Array(near.size);
  if (near.count === FEW) for (let k = 0; k < FEW; k++) near.place[near.row[k] as number] = k;
  return near.place;
}

const makeNear = (size: number): Near => ({
  row: new Int32Array(64),
  value: new Float64Array(64),
  count: 0,
  place: null,
  size,
});

/** Adds the older neighbours of a row (each stands there once). */
function addOlder({ start, older, weight, own }: Recursion, near: Near, j: number): void {
  const ownInverse = 1 / (own[j] as number);
  for (let k = start[j] as number; k < (start[j + 1] as number); k++)
    addNear(near, older[k] as number, -(weight[k] as number) * ownInverse);
}

/** Columns of sisters without younger ones: of each her older neighbours and her diagonal. */
function writeChildless(
  above: Near,
  { from, to, diagonal }: { from: number; to: number; diagonal: number },
  out: Writing,
): void {
  const { start, row, value } = out;
  const { row: olderRow, value: olderValue, count } = above;
  let at = out.at;
  for (let j = from; j < to; j++) {
    for (let n = 0; n < count; n++) {
      row[at] = olderRow[n] as number;
      value[at++] = olderValue[n] as number;
    }
    row[at] = j;
    value[at++] = diagonal;
    start[j + 1] = at;
  }
  out.at = at;
}

/** Gathers what stands near column j; answers its diagonal. */
function gatherNear(recursion: Recursion, below: Below, near: Near, j: number): number {
  const { start, older, weight, own } = recursion;
  let diagonal = 1 / (own[j] as number);
  near.count = 0;
  addOlder(recursion, near, j);
  const { line, whole } = below;
  for (let c = below.start[j] as number; c < (below.start[j + 1] as number); c++) {
    const at = 8 * c;
    const first = whole[at + FIRST] as number;
    const ofAll = (line[4 * c] as number) * ((whole[at + STOP] as number) - first);
    const takes = whole[at + TAKES] as number;
    if (takes === ANY) {
      const from = start[first] as number;
      const to = start[first + 1] as number;
      const wj = ofAll * weightOf(j, older, weight, from);
      for (let k = from; k < to; k++) {
        const add = wj * (weight[k] as number);
        if (older[k] === j) diagonal += add;
        else addNear(near, older[k] as number, add);
      }
    } else {
      diagonal += takes === ALL_BESIDE ? ofAll : 0.25 * ofAll;
      if (takes !== HALF) addNear(near, whole[at + OTHER] as number, 0.5 * ofAll);
    }
  }
  sortNear(near);
  return diagonal;
}

/** Weight of older row j among terms that begin at `from` and contain it. */
function weightOf(j: number, older: Int32Array, weight: Float64Array, from: number): number {
  let k = from;
  while (older[k] !== j) k++;
  return weight[k] as number;
}

/** Sorts by row what does not stand so yet. */
function sortNear({ row, value, count }: Near): void {
  if (count <= FEW) return;
  const index = Int32Array.from({ length: count }, (_, k) => k).sort((a, b) => (row[a] as number) - (row[b] as number));
  const [rows, values] = [row.slice(0, count), value.slice(0, count)];
  for (let k = 0; k < count; k++) {
    row[k] = rows[index[k] as number] as number;
    value[k] = values[index[k] as number] as number;
  }
}

/** Writes the column of a row with younger ones: what is near and above it, its diagonal, then its younger rows with what else is near below. */
function writeParent(recursion: Recursion, below: Below, near: Near, j: number, out: Writing): void {
  const { start, older, weight, size } = recursion;
  const { line, whole } = below;
  const { row, value } = out;
  const diagonal = gatherNear(recursion, below, near, j);
  const { row: nearRow, value: nearValue, count } = near;
  let at = out.at;
  let n = 0;
  for (; n < count && (nearRow[n] as number) < j; n++) {
    row[at] = nearRow[n] as number;
    value[at++] = nearValue[n] as number;
  }
  row[at] = j;
  value[at++] = diagonal;
  for (let c = below.start[j] as number; c < (below.start[j + 1] as number); c++) {
    const stop = whole[8 * c + STOP] as number;
    const takes = whole[8 * c + TAKES] as number;
    let i = whole[8 * c + FIRST] as number;
    const w = takes === ANY ? weightOf(j, older, weight, start[i] as number) : takes === ALL_BESIDE ? 1 : 0.5;
    const v = -w * (line[4 * c] as number);
    while (i < stop) {
      const nextNear = n < count ? (nearRow[n] as number) : size;
      const until = Math.min(nextNear, stop);
      for (; i < until; i++) {
        row[at] = i;
        value[at++] = v;
      }
      if (nextNear >= stop) break;
      row[at] = nextNear;
      value[at++] = nextNear === i ? v + (nearValue[n] as number) : (nearValue[n] as number);
      if (nextNear === i) i++;
      n++;
    }
  }
  for (; n < count; n++) {
    row[at] = nearRow[n] as number;
    value[at++] = nearValue[n] as number;
  }
  out.start[j + 1] = at;
  out.at = at;
}
