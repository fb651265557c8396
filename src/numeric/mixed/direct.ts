/**
 * The equations of a {@link MixedSystem} assembled and factored, leading classes and further levels as unknowns of their own: exact solutions,
 * determinants, and the inverse wherever a record or a row of the recursion couples two unknowns.
 */

import { filledInts, growingInts, pushInt } from '../csv/growing.ts';
import type { DenseKernels } from '../kernels/dense-kernels.ts';
import { analyse } from '../sparse/analyse.ts';
import { type BlockMatrix, blockOf, makeBlockMatrix } from '../sparse/block-matrix.ts';
import type { Cliques } from '../sparse/cliques.ts';
import { type SelectedInverse, selectedInverse } from '../sparse/selected-inverse.ts';
import {
  factorSupernodes,
  makeFactorKernels,
  type SupernodalFactor,
  solveSupernodes,
} from '../sparse/supernodal-factor.ts';
import { classesOf, type MixedSystem } from './system.ts';

/** Structure of the assembled equations; can be used again while only weights, G and own variances change. */
export type DirectPattern = {
  readonly matrix: BlockMatrix;
  readonly kernels: DenseKernels;
  /** First vertex of the leading classes, and of the further levels; nodes come first. */
  readonly firstClass: number;
  readonly firstLevel: number;
};

/** What beside the records shapes the equations, and the kernels to be used (the compiled ones when left out). */
export type DirectOptions = {
  /** Sets of nodes whose covariances are asked for beside those the records couple. */
  asked?: readonly (readonly number[])[];
  makeKernels?: (doubles: number) => DenseKernels;
};

/**
 * Vertices record r couples: the nodes of its features, its class, its levels. Written into `into`, which is emptied first and answered.
 * @example recordVertices(workedSystem, 1, 0, []) // [1, 2]; node 1 and the mean
 */
export function recordVertices(system: MixedSystem, r: number, leadingClass: number, into: number[]): number[] {
  const { features, observations, recursion, factors } = system;
  into.length = 0;
  for (const feature of [observations.left[r] as number, observations.right[r] as number]) {
    if (feature < 0) continue;
    for (let k = features.start[feature] as number; k < (features.start[feature + 1] as number); k++)
      into.push(features.node[k] as number);
  }
  into.push(recursion.size + leadingClass);
  for (let k = 0; k < factors; k++) {
    const level = observations.levels[r * factors + k] as number;
    if (level >= 0) into.push(recursion.size + classesOf(system) + level);
  }
  return into;
}

/**
 * Analyses the structure of a system's equations: vertices are nodes (effects rows each), then classes, then levels (traits rows each). Allocates
 * the heap of the factor.
 *
 * ```ts
 * const pattern = directPattern(system);
 * assemble(system, pattern);
 * const factor = factorDirect(pattern);
 * const { nodes } = solveDirect(system, pattern, factor, system.observations.y);
 * ```
 * @example directPattern(workedSystem) // { firstClass: 2, firstLevel: 3 }
 */
export function directPattern(system: MixedSystem, options: DirectOptions = {}): DirectPattern {
  const { recursion, effects, traits, levelCount } = system;
  const classes = classesOf(system);
  const size = recursion.size + classes + levelCount;
  const weight = new Int32Array(size).fill(traits);
  weight.fill(effects, 0, recursion.size);
  const cliques = gatherCliques(system, options.asked ?? [], { size, weight });
  const supernodes = analyse(cliques);
  return {
    matrix: makeBlockMatrix(cliques, supernodes),
    kernels: makeFactorKernels(supernodes, options.makeKernels),
    firstClass: recursion.size,
    firstLevel: recursion.size + classes,
  };
}

function gatherCliques(
  system: MixedSystem,
  asked: readonly (readonly number[])[],
  { size, weight }: Pick<Cliques, 'size' | 'weight'>,
): Cliques {
  const { recursion, observations } = system;
  const start = growingInts(1024);
  const member = growingInts(4096);
  pushInt(start, 0);
  /** Last clique of each hash, and the one of the same hash before each. */
  const lastOf = new Map<number, number>();
  const before = growingInts(1024);
  const list: number[] = [];
  const add = (vertices: readonly number[]) => {
    risingInto(vertices, list);
    let hash = 0;
    for (const v of list) hash = (Math.imul(hash, 31) + v) | 0;
    const last = lastOf.get(hash) ?? -1;
    for (let c = last; c >= 0; c = before.values[c] as number)
      if (isClique(member.values, start.values[c] as number, start.values[c + 1] as number, list)) return;
    lastOf.set(hash, before.size);
    pushInt(before, last);
    for (const v of list) pushInt(member, v);
    pushInt(start, member.size);
  };
  for (let i = 0; i < recursion.size; i++)
    add([i, ...recursion.older.subarray(recursion.start[i], recursion.start[i + 1])]);
  const vertices: number[] = [];
  for (let c = 0; c < classesOf(system); c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      add(recordVertices(system, r, c, vertices));
    }
  }
  for (const set of asked) if (set.length > 1) add(set);
  return { size, weight, count: before.size, start: filledInts(start), member: filledInts(member) };
}

/** The vertices once each, rising; there are few. */
function risingInto(vertices: readonly number[], out: number[]): void {
  out.length = 0;
  for (const v of vertices) {
    let at = out.length;
    while (at > 0 && (out[at - 1] as number) > v) at--;
    if (at > 0 && out[at - 1] === v) continue;
    out.splice(at, 0, v);
  }
}

/** Whether the members `from … to−1` are that list. */
function isClique(member: Int32Array, from: number, to: number, list: readonly number[]): boolean {
  if (to - from !== list.length) return false;
  for (let k = 0; k < list.length; k++) if (member[from + k] !== list[k]) return false;
  return true;
}

/** Adds `scale · block` (rows of v, columns of w, `ld` wide in `block`) to the pair v, w, once for both triangles. */
function addBlock(matrix: BlockMatrix, v: number, w: number, block: Float64Array, scale: number): void {
  const { at, rowsOfFirst } = blockOf(matrix, v, w);
  const high = matrix.supernodes.weight[v] as number;
  const wide = matrix.supernodes.weight[w] as number;
  const { values } = matrix;
  for (let i = 0; i < high; i++) {
    for (let j = 0; j < wide; j++) {
      const place = rowsOfFirst ? at + i * wide + j : at + j * high + i;
      values[place] = (values[place] as number) + scale * (block[i * wide + j] as number);
    }
  }
}

/**
 * Fills the matrix with the values of a system (of the structure it was analysed for): the prior of the nodes and of the classes, and `B'WB` of the
 * records.
 * The system itself stays as it is; what the matrix held before is gone.
 * @example const pattern = directPattern(workedSystem); assemble(workedSystem, pattern);
 * blockOf(pattern.matrix, 2, 2).at === pattern.matrix.values.lastIndexOf(2) // true; two records in the mean
 */
export function assemble(system: MixedSystem, pattern: DirectPattern): void {
  pattern.matrix.values.fill(0);
  addPrior(system, pattern.matrix);
  addRecords(system, pattern);
  const { classPrior } = system;
  if (classPrior === null) return;
  for (let c = 0; c < classesOf(system); c++)
    addBlock(pattern.matrix, pattern.firstClass + c, pattern.firstClass + c, classPrior, 1);
}

function addPrior({ recursion, inverseG }: MixedSystem, matrix: BlockMatrix): void {
  const { start, older, weight, own, size } = recursion;
  for (let i = 0; i < size; i++) {
    const inverse = 1 / (own[i] as number);
    addBlock(matrix, i, i, inverseG, inverse);
    for (let k = start[i] as number; k < (start[i + 1] as number); k++) {
      const wk = (weight[k] as number) * inverse;
      addBlock(matrix, older[k] as number, i, inverseG, -wk);
      for (let l = start[i] as number; l <= k; l++) {
        const both = wk * (weight[l] as number);
        addBlock(matrix, older[k] as number, older[l] as number, inverseG, both);
        // the same node named twice meets itself from both sides
        if (l !== k && older[k] === older[l]) addBlock(matrix, older[k] as number, older[l] as number, inverseG, both);
      }
    }
  }
}

/** Terms of a record: vertex and what each of its rows takes part with in each trait (`rows × traits`). */
type Term = { vertex: number; load: Float64Array };

function recordTerms(system: MixedSystem, pattern: DirectPattern, r: number, leadingClass: number): Term[] {
  const { features, observations, traits: t, effects: q, factors } = system;
  const terms: Term[] = [];
  for (const feature of [observations.left[r] as number, observations.right[r] as number]) {
    if (feature < 0) continue;
    for (let k = features.start[feature] as number; k < (features.start[feature + 1] as number); k++) {
      const load = new Float64Array(q * t);
      for (let s = 0; s < t; s++) {
        load[2 * s * t + s] = features.first[k] as number;
        load[(2 * s + 1) * t + s] = features.second[k] as number;
      }
      mergeTerm(terms, { vertex: features.node[k] as number, load });
    }
  }
  const one = new Float64Array(t * t);
  for (let s = 0; s < t; s++) one[s * t + s] = 1;
  terms.push({ vertex: pattern.firstClass + leadingClass, load: one });
  for (let k = 0; k < factors; k++) {
    const level = observations.levels[r * factors + k] as number;
    if (level >= 0) terms.push({ vertex: pattern.firstLevel + level, load: one });
  }
  return terms;
}

function mergeTerm(terms: Term[], term: Term): void {
  const known = terms.find((other) => other.vertex === term.vertex);
  if (known === undefined) terms.push(term);
  else
    known.load.forEach((value, i) => {
      known.load[i] = value + (term.load[i] as number);
    });
}

function addRecords(system: MixedSystem, pattern: DirectPattern): void {
  const { observations, traits: t, effects: q } = system;
  const most = Math.max(q, t);
  const weighted = new Float64Array(most * t);
  const block = new Float64Array(most * most);
  for (let c = 0; c < classesOf(system); c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      const w = observations.weight.subarray(r * t * t, (r + 1) * t * t);
      const terms = recordTerms(system, pattern, r, c);
      for (const [a, one] of terms.entries()) {
        const high = one.load.length / t;
        times(one.load, w, { rows: high, inner: t, columns: t }, weighted);
        for (const other of terms.slice(0, a + 1)) {
          const wide = other.load.length / t;
          timesTransposed(weighted, other.load, { rows: high, inner: t, columns: wide }, block);
          addBlock(pattern.matrix, one.vertex, other.vertex, block, 1);
        }
      }
    }
  }
}

type Sizes = { rows: number; inner: number; columns: number };

function times(a: Float64Array, b: Float64Array, { rows, inner, columns }: Sizes, out: Float64Array): void {
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      let sum = 0;
      for (let k = 0; k < inner; k++) sum += (a[i * inner + k] as number) * (b[k * columns + j] as number);
      out[i * columns + j] = sum;
    }
  }
}

function timesTransposed(a: Float64Array, b: Float64Array, { rows, inner, columns }: Sizes, out: Float64Array): void {
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      let sum = 0;
      for (let k = 0; k < inner; k++) sum += (a[i * inner + k] as number) * (b[j * inner + k] as number);
      out[i * columns + j] = sum;
    }
  }
}

/** Solutions of the assembled equations: `nodes × effects`, leading `classes × traits`, further `levels × traits`; each row after row. */
export type DirectSolution = { nodes: Float64Array; classes: Float64Array; levels: Float64Array };

/**
 * Factors the equations last assembled. The factor lies in the pattern's heap: the next one takes its place.
 * @example const pattern = directPattern(workedSystem); assemble(workedSystem, pattern);
 * factorDirect(pattern).logDeterminant // Math.log(16 / 3); |V| |X'V⁻¹X| / |A ⊗ G| = 3.75 · 0.8 / 0.75²
 */
export const factorDirect = (pattern: DirectPattern): SupernodalFactor =>
  factorSupernodes(pattern.matrix, pattern.kernels);

/**
 * Right-hand side `B'Wy` in the order of elimination, for values `y` as `observations.y`.
 * @example const b = directRightHandSide(workedSystem, directPattern(workedSystem), workedSystem.observations.y);
 * b.toSorted() // [0, 0, 1, 3, 4]; both records, their sum, and two effects without any
 */
export function directRightHandSide(system: MixedSystem, pattern: DirectPattern, y: Float64Array): Float64Array {
  const { observations, traits: t } = system;
  const { firstRow, rows } = pattern.matrix.supernodes;
  const out = new Float64Array(rows);
  for (let c = 0; c < classesOf(system); c++) {
    for (let r = observations.classStart[c] as number; r < (observations.classStart[c + 1] as number); r++) {
      for (const { vertex, load } of recordTerms(system, pattern, r, c)) {
        for (let i = 0; i < load.length / t; i++) {
          let sum = 0;
          for (let s = 0; s < t; s++) {
            for (let u = 0; u < t; u++) {
              sum +=
                (load[i * t + s] as number) *
                (observations.weight[(r * t + s) * t + u] as number) *
                (y[r * t + u] as number);
            }
          }
          const at = (firstRow[vertex] as number) + i;
          out[at] = (out[at] as number) + sum;
        }
      }
    }
  }
  return out;
}

/**
 * Solves for values `y`, as `observations.y`. Unknowns that depend on others are 0. The factor stays.
 * @example const pattern = directPattern(workedSystem); assemble(workedSystem, pattern);
 * solveDirect(workedSystem, pattern, factorDirect(pattern), workedSystem.observations.y) // { nodes: [1 / 3, 0, -1 / 3, 0], classes: [2] }
 */
export function solveDirect(
  system: MixedSystem,
  pattern: DirectPattern,
  factor: SupernodalFactor,
  y: Float64Array,
): DirectSolution {
  return sorted(system, pattern, solveSupernodes(factor, directRightHandSide(system, pattern, y)));
}

function sorted(system: MixedSystem, pattern: DirectPattern, x: Float64Array): DirectSolution {
  const { recursion, effects: q, traits: t, levelCount } = system;
  const { firstRow } = pattern.matrix.supernodes;
  const take = (first: number, count: number, width: number): Float64Array => {
    const out = new Float64Array(count * width);
    for (let k = 0; k < count; k++)
      out.set(x.subarray(firstRow[first + k], (firstRow[first + k] as number) + width), k * width);
    return out;
  };
  return {
    nodes: take(0, recursion.size, q),
    classes: take(pattern.firstClass, classesOf(system), t),
    levels: take(pattern.firstLevel, levelCount, t),
  };
}

/**
 * The inverse of the equations on their pattern, in the heap of the factor, which is used up.
 * @example const pattern = directPattern(workedSystem); assemble(workedSystem, pattern);
 * const block = new Float64Array(4); inverseBlock(invertDirect(factorDirect(pattern)), 0, 0, block);
 * block // [11 / 12, 0, 0, 1]
 */
export const invertDirect = (factor: SupernodalFactor): SelectedInverse => selectedInverse(factor);
