/**
 * Symbolic factorisation: from cliques and an elimination order to supernodes (columns with one structure, stored as one dense panel). Structures
 * are merged up the elimination tree (Liu 1990, SIAM J Matrix Anal Appl 11:134); small neighbours are joined though it stores some zeros (relaxed
 * supernodes, Ashcraft and Grimes 1989, ACM Trans Math Softw 15:291), wide ones are cut.
 */
import type { Cliques } from './cliques.ts';
import { type Elimination, minimumDegree } from './minimum-degree.ts';

/**
 * The structure of a factor. `columnStart`, `rowStart` and `panel` have `count` + 1 numbers; rows and columns are numbered in the order of
 * elimination.
 */
export type Supernodes = {
  /** Rows of the matrix. */
  readonly rows: number;
  readonly count: number;
  /** Columns of supernode s are `columnStart[s] … columnStart[s+1]−1`. */
  readonly columnStart: Int32Array;
  /** Its rows, its own columns first, are `row[rowStart[s] … rowStart[s+1]−1]`, rising. */
  readonly rowStart: Int32Array;
  readonly row: Int32Array;
  /** Where its panel begins in the heap (rows × own columns, row after row), and all panels' length. */
  readonly panel: Float64Array;
  readonly doubles: number;
  /** Supernode of each column. */
  readonly ofColumn: Int32Array;
  /** First row of each vertex in the order of elimination. */
  readonly firstRow: Int32Array;
  /** Rows each vertex stands for. */
  readonly weight: Int32Array;
  /** Multiplications and additions of the factorisation, about. */
  readonly flops: number;
};

/** Widest panel; wide enough for the dense kernels, narrow enough that the upper triangle it stores in vain is small. */
const WIDEST = 256;

type Group = { from: number; to: number; below: Int32Array };

/**
 * Supernodes of a matrix with that structure, in a fill-reducing order unless another elimination is given. Deterministic; no values are needed.
 * Time: of the order of the factor's structure, not of its values.
 * @example analyse(workedCliques) // { rows: 2, count: 1, columnStart: [0, 2], doubles: 4 }
 */
export function analyse(cliques: Cliques, elimination: Elimination = minimumDegree(cliques)): Supernodes {
  const groups = structures(cliques, elimination);
  const merged = joinSmall(cliques, elimination, groups);
  return layOut(cliques, elimination, groups, merged);
}

/** Groups of the elimination with the positions below them. */
function structures(cliques: Cliques, { order, group }: Elimination): Group[] {
  const n = cliques.size;
  const position = new Int32Array(n);
  for (let k = 0; k < n; k++) position[order[k] as number] = k;
  const groups: Group[] = [];
  const groupAt = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    const isNew = k === 0 || group[order[k] as number] !== group[order[k - 1] as number];
    if (isNew) groups.push({ from: k, to: k, below: EMPTY });
    (groups[groups.length - 1] as Group).to = k + 1;
    groupAt[k] = groups.length - 1;
  }
  const { start, list } = cliquesByGroup(cliques, position, groupAt, groups.length);
  const firstChild = new Int32Array(groups.length).fill(-1);
  const nextChild = new Int32Array(groups.length).fill(-1);
  const mark = new Int32Array(n).fill(-1);
  const found = new Int32Array(n);
  for (let g = 0; g < groups.length; g++) {
    const own = groups[g] as Group;
    let count = 0;
    for (let k = start[g] as number; k < (start[g + 1] as number); k++) {
      const c = list[k] as number;
      for (let m = cliques.start[c] as number; m < (cliques.start[c + 1] as number); m++) {
        const p = position[cliques.member[m] as number] as number;
        if (p < own.to || mark[p] === g) continue;
        mark[p] = g;
        found[count++] = p;
      }
    }
    for (let child = firstChild[g] as number; child >= 0; child = nextChild[child] as number) {
      const { below } = groups[child] as Group;
      for (let k = 0; k < below.length; k++) {
        const p = below[k] as number;
        if (p < own.to || mark[p] === g) continue;
        mark[p] = g;
        found[count++] = p;
      }
    }
    own.below = found.slice(0, count).sort();
    if (count === 0) continue;
    const parent = groupAt[own.below[0] as number] as number;
    nextChild[g] = firstChild[parent] as number;
    firstChild[parent] = g;
  }
  return groups;
}

const EMPTY = new Int32Array(0);

/** Cliques by the group of their first eliminated member. */
function cliquesByGroup(cliques: Cliques, position: Int32Array, groupAt: Int32Array, groups: number) {
  const of = new Int32Array(cliques.count).fill(-1);
  const start = new Int32Array(groups + 1);
  for (let c = 0; c < cliques.count; c++) {
    let first = position.length;
    for (let m = cliques.start[c] as number; m < (cliques.start[c + 1] as number); m++) {
      const p = position[cliques.member[m] as number] as number;
      if (p < first) first = p;
    }
    if (first === position.length) continue;
    of[c] = groupAt[first] as number;
    start[(of[c] as number) + 1] = (start[(of[c] as number) + 1] as number) + 1;
  }
  for (let g = 0; g < groups; g++) start[g + 1] = (start[g + 1] as number) + (start[g] as number);
  const next = start.slice();
  const list = new Int32Array(start[groups] as number);
  for (let c = 0; c < cliques.count; c++) {
    const g = of[c] as number;
    if (g < 0) continue;
    list[next[g] as number] = c;
    next[g] = (next[g] as number) + 1;
  }
  return { start, list };
}

/** For each group the group it is stored with (itself, or one further up the tree), and the tree of those. */
type Merged = { into: Int32Array; parent: Int32Array };

/** Stored zeros allowed in a joined supernode of that width, as a part of its entries. */
const zerosAllowed = (width: number): number => (width <= 4 ? 0.1 : width <= 48 ? 0.3 : width <= 96 ? 0.08 : 0.02);

function joinSmall(cliques: Cliques, { order }: Elimination, groups: readonly Group[]): Merged {
  const count = groups.length;
  const groupAt = new Int32Array(order.length);
  groups.forEach(({ from, to }, g) => {
    groupAt.fill(g, from, to);
  });
  const weightAt = (p: number) => cliques.weight[order[p] as number] as number;
  const width = new Float64Array(count);
  const below = new Float64Array(count);
  for (let g = 0; g < count; g++) {
    const group = groups[g] as Group;
    for (let p = group.from; p < group.to; p++) width[g] = (width[g] as number) + weightAt(p);
    for (let k = 0; k < group.below.length; k++) below[g] = (below[g] as number) + weightAt(group.below[k] as number);
  }
  const zeros = new Float64Array(count);
  const into = Int32Array.from({ length: count }, (_, g) => g);
  const parent = Int32Array.from(groups, (group) =>
    group.below.length === 0 ? -1 : (groupAt[group.below[0] as number] as number),
  );
  for (let g = 0; g < count; g++) {
    const p = parent[g] as number;
    if (p < 0) continue;
    const joined = (width[g] as number) + (width[p] as number);
    const added = (width[g] as number) * ((width[p] as number) + (below[p] as number) - (below[g] as number));
    const allZeros = (zeros[g] as number) + (zeros[p] as number) + added;
    const entries = (joined * (joined + 1)) / 2 + joined * (below[p] as number);
    if (allZeros > 0 && allZeros > zerosAllowed(joined) * entries) continue;
    into[g] = p;
    width[p] = joined;
    zeros[p] = allZeros;
  }
  return { into, parent };
}

const rootOf = (into: Int32Array, g: number): number => {
  let root = g;
  while (into[root] !== root) root = into[root] as number;
  return root;
};

/** Joined groups in a postorder of their tree. */
function postorder({ into, parent }: Merged): { roots: number[]; members: Map<number, number[]> } {
  const count = into.length;
  const members = new Map<number, number[]>();
  for (let g = 0; g < count; g++) {
    const root = rootOf(into, g);
    members.set(root, [...(members.get(root) ?? []), g]);
  }
  const children = new Map<number, number[]>();
  for (const root of members.keys()) {
    const up = parent[root] as number;
    const key = up < 0 ? -1 : rootOf(into, up);
    const siblings = children.get(key);
    if (siblings) siblings.push(root);
    else children.set(key, [root]);
  }
  const roots: number[] = [];
  const stack = [...(children.get(-1) ?? [])].reverse().map((node) => ({ node, open: true }));
  while (stack.length > 0) {
    const top = stack.pop() as { node: number; open: boolean };
    if (!top.open) roots.push(top.node);
    else {
      stack.push({ node: top.node, open: false });
      for (const child of children.get(top.node) ?? []) stack.push({ node: child, open: true });
    }
  }
  return { roots, members };
}

/** Part of a group's columns: positions `order[from … to−1]` of the new order, and the end of the group and its rows below. */
type Piece = { from: number; to: number; end: number; below: Int32Array };

function layOut(cliques: Cliques, { order }: Elimination, groups: readonly Group[], merged: Merged): Supernodes {
  const { roots, members } = postorder(merged);
  /** Old positions in the new order, and their weights. */
  const placed = new Int32Array(order.length);
  const weight = new Int32Array(order.length);
  const pieces: Piece[] = [];
  let at = 0;
  for (const root of roots) {
    const first = at;
    for (const g of members.get(root) ?? []) {
      const { from, to } = groups[g] as Group;
      for (let p = from; p < to; p++) {
        placed[at] = p;
        weight[at++] = cliques.weight[order[p] as number] as number;
      }
    }
    cut(weight, first, at, (groups[root] as Group).below, pieces);
  }
  const firstRow = new Int32Array(cliques.size);
  const rowAt = new Int32Array(order.length);
  let rows = 0;
  for (let k = 0; k < placed.length; k++) {
    const p = placed[k] as number;
    rowAt[p] = rows;
    firstRow[order[p] as number] = rows;
    rows += weight[k] as number;
  }
  return packSupernodes(cliques, pieces, { order, placed, rowAt, firstRow, rows });
}

/** A wide group as several, each with the rest of it below. */
function cut(weight: Int32Array, first: number, end: number, below: Int32Array, pieces: Piece[]): void {
  let from = first;
  while (from < end) {
    let width = 0;
    let to = from;
    while (to < end && (width === 0 || width + (weight[to] as number) <= WIDEST)) width += weight[to++] as number;
    pieces.push({ from, to, end, below });
    from = to;
  }
}

type Rows = { order: Int32Array; placed: Int32Array; rowAt: Int32Array; firstRow: Int32Array; rows: number };

function packSupernodes(cliques: Cliques, pieces: readonly Piece[], given: Rows): Supernodes {
  const { order, placed, rowAt, firstRow, rows } = given;
  const count = pieces.length;
  const columnStart = new Int32Array(count + 1);
  const rowStart = new Int32Array(count + 1);
  const panel = new Float64Array(count + 1);
  const ofColumn = new Int32Array(rows);
  const weightOf = (p: number) => cliques.weight[order[p] as number] as number;
  const rowsOf = (from: number, to: number): number => {
    if (from === to) return 0;
    const last = placed[to - 1] as number;
    return (rowAt[last] as number) + weightOf(last) - (rowAt[placed[from] as number] as number);
  };
  const belowRows = new Map<Int32Array, Int32Array>();
  let flops = 0;
  for (let s = 0; s < count; s++) {
    const { from, to, end, below } = pieces[s] as Piece;
    let rowsBelow = belowRows.get(below);
    if (rowsBelow === undefined) {
      rowsBelow = expand(below, rowAt, weightOf);
      belowRows.set(below, rowsBelow);
    }
    const width = rowsOf(from, to);
    const height = rowsOf(from, end) + rowsBelow.length;
    columnStart[s + 1] = (columnStart[s] as number) + width;
    rowStart[s + 1] = (rowStart[s] as number) + height;
    panel[s + 1] = (panel[s] as number) + width * height;
    ofColumn.fill(s, columnStart[s], columnStart[s + 1]);
    flops += width * (height - width) * height + (width * width * width) / 3;
  }
  const row = new Int32Array(rowStart[count] as number);
  for (let s = 0; s < count; s++) {
    const { from, end, below } = pieces[s] as Piece;
    const own = rowsOf(from, end);
    const first = columnStart[s] as number;
    let at = rowStart[s] as number;
    for (let k = 0; k < own; k++) row[at++] = first + k;
    row.set(belowRows.get(below) as Int32Array, at);
  }
  const { weight } = cliques;
  return {
    rows,
    count,
    columnStart,
    rowStart,
    row,
    panel,
    doubles: panel[count] as number,
    ofColumn,
    firstRow,
    weight,
    flops,
  };
}

/** Rows of old positions in the new order, rising. */
function expand(positions: Int32Array, rowAt: Int32Array, weightOf: (p: number) => number): Int32Array {
  let count = 0;
  for (let k = 0; k < positions.length; k++) count += weightOf(positions[k] as number);
  const out = new Int32Array(count);
  let at = 0;
  for (let k = 0; k < positions.length; k++) {
    const p = positions[k] as number;
    const first = rowAt[p] as number;
    const weight = weightOf(p);
    for (let r = 0; r < weight; r++) out[at++] = first + r;
  }
  return out.sort();
}
