/**
 * Symbolic factorisation: from cliques and an elimination order to supernodes (columns with one structure, stored as one dense panel). Structures
 * are merged up the elimination tree (Liu 1990, SIAM J Matrix Anal Appl 11:134); small neighbours are joined though it stores some zeros (relaxed
 * supernodes, Ashcraft and Grimes 1989, ACM Trans Math Softw 15:291), wide ones are cut.
 */
import type { Cliques } from './cliques.ts';
import { type Elimination, minimumDegree } from './minimum-degree.ts';

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
  readonly ofColumn: Int32Array;
  /** First row of each vertex in the order of elimination. */
  readonly firstRow: Int32Array;
  readonly weight: Int32Array;
  /** Multiplications and additions of the factorisation, about. */
  readonly flops: number;
};

/** Widest panel; wide enough for the dense kernels, narrow enough that the upper triangle it stores in vain is small. */
const WIDEST = 192;

type Group = { from: number; to: number; below: Int32Array };

/** Supernodes of a matrix with that structure. */
export function analyse(cliques: Cliques, elimination: Elimination = minimumDegree(cliques)): Supernodes {
  const groups = structures(cliques, elimination);
  const merged = joinSmall(cliques, elimination, groups);
  return layOut(cliques, elimination, groups, merged);
}

/** Groups of the elimination with the positions below them. */
function structures(cliques: Cliques, { order, group }: Elimination): Group[] {
  const n = cliques.size;
  const position = new Int32Array(n);
  order.forEach((v, k) => {
    position[v] = k;
  });
  const groups: Group[] = [];
  const groupAt = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    const isNew = k === 0 || group[order[k] as number] !== group[order[k - 1] as number];
    if (isNew) groups.push({ from: k, to: k, below: new Int32Array(0) });
    (groups.at(-1) as Group).to = k + 1;
    groupAt[k] = groups.length - 1;
  }
  const cliquesOf: number[][] = groups.map(() => []);
  for (let c = 0; c < cliques.count; c++) {
    let first = n;
    for (let m = cliques.start[c] as number; m < (cliques.start[c + 1] as number); m++) {
      first = Math.min(first, position[cliques.member[m] as number] as number);
    }
    if (first < n) cliquesOf[groupAt[first] as number]?.push(c);
  }
  const children: number[][] = groups.map(() => []);
  const mark = new Int32Array(n).fill(-1);
  for (const [g, { to }] of groups.entries()) {
    const below: number[] = [];
    const add = (p: number) => {
      if (p < to || mark[p] === g) return;
      mark[p] = g;
      below.push(p);
    };
    for (const c of cliquesOf[g] as number[]) {
      for (let m = cliques.start[c] as number; m < (cliques.start[c + 1] as number); m++)
        add(position[cliques.member[m] as number] as number);
    }
    for (const child of children[g] as number[]) for (const p of (groups[child] as Group).below) add(p);
    const sorted = Int32Array.from(below).sort();
    (groups[g] as Group).below = sorted;
    if (sorted.length > 0) children[groupAt[sorted[0] as number] as number]?.push(g);
  }
  return groups;
}

/** For each group the group it is stored with (itself, or one further up the tree), and the tree of those. */
type Merged = { into: Int32Array; parent: Int32Array };

/** Stored zeros allowed in a joined supernode of that width, as a part of its entries. */
const zerosAllowed = (width: number): number => (width <= 8 ? 1 : width <= 24 ? 0.5 : width <= 64 ? 0.12 : 0.04);

function joinSmall(cliques: Cliques, { order }: Elimination, groups: readonly Group[]): Merged {
  const count = groups.length;
  const groupAt = new Int32Array(order.length);
  groups.forEach(({ from, to }, g) => {
    groupAt.fill(g, from, to);
  });
  const weightAt = (p: number) => cliques.weight[order[p] as number] as number;
  const width = Float64Array.from(groups, ({ from, to }) => {
    let sum = 0;
    for (let p = from; p < to; p++) sum += weightAt(p);
    return sum;
  });
  const below = Float64Array.from(groups, (group) => group.below.reduce((sum, p) => sum + weightAt(p), 0));
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

type Piece = { vertices: number[]; below: number[] };

function layOut(cliques: Cliques, { order }: Elimination, groups: readonly Group[], merged: Merged): Supernodes {
  const { roots, members } = postorder(merged);
  const newOrder: number[] = [];
  const pieces: Piece[] = [];
  for (const root of roots) {
    const positions = (members.get(root) ?? []).flatMap((g) => {
      const { from, to } = groups[g] as Group;
      return Array.from({ length: to - from }, (_, k) => from + k);
    });
    newOrder.push(...positions);
    pieces.push(...cut(cliques, order, positions, [...(groups[root] as Group).below]));
  }
  const firstRow = new Int32Array(cliques.size);
  const rowAt = new Int32Array(order.length);
  let rows = 0;
  for (const p of newOrder) {
    rowAt[p] = rows;
    firstRow[order[p] as number] = rows;
    rows += cliques.weight[order[p] as number] as number;
  }
  return packSupernodes(cliques, order, pieces, { rowAt, firstRow, rows });
}

/** A wide group as several, each with the rest of it below. */
function cut(cliques: Cliques, order: Int32Array, positions: number[], below: number[]): Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  while (from < positions.length) {
    let width = 0;
    let to = from;
    while (to < positions.length && (width === 0 || width + weightOf(cliques, order, positions[to]) <= WIDEST)) {
      width += weightOf(cliques, order, positions[to]);
      to++;
    }
    pieces.push({ vertices: positions.slice(from, to), below: [...positions.slice(to), ...below] });
    from = to;
  }
  return pieces;
}

const weightOf = (cliques: Cliques, order: Int32Array, position: number | undefined): number =>
  cliques.weight[order[position as number] as number] as number;

type Rows = { rowAt: Int32Array; firstRow: Int32Array; rows: number };

function packSupernodes(
  cliques: Cliques,
  order: Int32Array,
  pieces: readonly Piece[],
  { rowAt, firstRow, rows }: Rows,
): Supernodes {
  const count = pieces.length;
  const columnStart = new Int32Array(count + 1);
  const rowStart = new Int32Array(count + 1);
  const panel = new Float64Array(count + 1);
  const ofColumn = new Int32Array(rows);
  const length = (positions: readonly number[]) => positions.reduce((sum, p) => sum + weightOf(cliques, order, p), 0);
  const expand = (positions: readonly number[]): number[] =>
    positions.flatMap((p) => Array.from({ length: weightOf(cliques, order, p) }, (_, k) => (rowAt[p] as number) + k));
  let flops = 0;
  for (const [s, piece] of pieces.entries()) {
    const width = length(piece.vertices);
    const height = width + length(piece.below);
    columnStart[s + 1] = (columnStart[s] as number) + width;
    rowStart[s + 1] = (rowStart[s] as number) + height;
    panel[s + 1] = (panel[s] as number) + width * height;
    ofColumn.fill(s, columnStart[s], columnStart[s + 1]);
    flops += width * (height - width) * height + (width * width * width) / 3;
  }
  const row = new Int32Array(rowStart[count] as number);
  for (const [s, piece] of pieces.entries()) {
    row.set(expand(piece.vertices), rowStart[s] as number);
    row.set(
      Int32Array.from(expand(piece.below)).sort(),
      (rowStart[s] as number) + (columnStart[s + 1] as number) - (columnStart[s] as number),
    );
  }
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
    weight: cliques.weight,
    flops,
  };
}
