/**
 * Which rows stay in the equations of an evaluation, in what order, and their recursion. A row nobody descends from, met by one record alone, need not
 * stay: its own variance goes into that record's residual, and its value comes back exactly afterwards (Quaas and Pollak 1980, J Anim Sci 51:1277:
 * the reduced animal model). Rows are those of the positive recursion, 0 … size−1, oldest first.
 */
import type { Recursion } from '#numeric/recursion/recursion.ts';
import type { Descent } from './descent.ts';
import type { Records } from './records.ts';

/**
 * 1 for each row that stays, 0 for one to be absorbed (or in no record at all): parents and drone mothers stay, rows two records meet, pools several queens
 * carry, and rows a record meets only as part of a combination (reduced animal model, Quaas and Pollak 1980, J Anim Sci 51:1277). One number a row of the
 * positive recursion. Time grows with rows and records.
 * @example const { pedigree, records } = workedPrepared();
 * keptRows(descentOf(pedigree), records).reduce((sum, keep) => sum + keep) // 7; A, B, C, Q3, the two pools of A and B, the batch
 */
export function keptRows(descent: Descent, records: Records): Uint8Array {
  const { part } = descent;
  const { size, start, older } = part.recursion;
  const keep = new Uint8Array(size);
  for (let k = 0; k < (start[size] as number); k++) keep[older[k] as number] = 1;
  const uses = new Int32Array(size);
  const use = (fullRow: number) => {
    const from = part.start[fullRow] as number;
    const to = part.start[fullRow + 1] as number;
    for (let k = from; k < to; k++) {
      const row = part.row[k] as number;
      uses[row] = (uses[row] as number) + 1;
      if (to - from > 1 || part.weight[k] !== 1 || (uses[row] as number) > 1) keep[row] = 1;
    }
  };
  for (let r = 0; r < records.count; r++) {
    const queen = records.queen[r] as number;
    use(descent.queenRow[queen] as number);
    use(descent.carriedRow[queen] as number);
  }
  keepShared(descent, keep, uses);
  return keep;
}

/** A recorded pool that several queens carry stays, so that what is absorbed into a record belongs to one queen. */
function keepShared({ part, carriedRow }: Descent, keep: Uint8Array, uses: Int32Array): void {
  const carriers = new Int32Array(part.recursion.size);
  for (const fullRow of carriedRow) {
    if ((part.start[fullRow + 1] as number) - (part.start[fullRow] as number) !== 1) continue;
    const row = part.row[part.start[fullRow] as number] as number;
    carriers[row] = (carriers[row] as number) + 1;
    if ((carriers[row] as number) > 1 && (uses[row] as number) > 0) keep[row] = 1;
  }
}

/**
 * Kept rows in an order of falling distance to their youngest descendant, pools before queens, so that older ones come first and what is eliminated from the
 * youngest backwards meets few rows not yet eliminated (own choice; any order with parents first gives the same answers). `order`: row of each place, one
 * number a kept row; `kept`: place of each row, −1 = not kept. Stable: rows of one key stay in their order. Everything a kept row descends from must be kept.
 * @param keep one number a row of the positive recursion, 0 = not kept
 * @example const { pedigree, records } = workedPrepared(); const descent = descentOf(pedigree);
 * const { order, kept: place } = orderKept(descent, keptRows(descent, records)); Array.from(order, (row) => place[row]) // [0, 1, 2, 3, 4, 5, 6]
 */
export function orderKept(descent: Descent, keep: Uint8Array): { order: Int32Array; kept: Int32Array } {
  const { part, isPool } = descent;
  const { size, start, older } = part.recursion;
  const height = new Int32Array(size);
  let most = 0;
  for (let row = size - 1; row >= 0; row--) {
    for (let k = start[row] as number; k < (start[row + 1] as number); k++) {
      const j = older[k] as number;
      if ((height[j] as number) <= (height[row] as number)) height[j] = (height[row] as number) + 1;
    }
    most = Math.max(most, height[row] as number);
  }
  const key = (row: number) => 2 * (most - (height[row] as number)) + (isPool[part.from[row] as number] === 1 ? 0 : 1);
  const place = new Int32Array(2 * most + 4);
  let count = 0;
  for (let row = 0; row < size; row++) {
    if (keep[row] === 0) continue;
    place[key(row) + 1] = (place[key(row) + 1] as number) + 1;
    count++;
  }
  for (let k = 1; k < place.length; k++) place[k] = (place[k] as number) + (place[k - 1] as number);
  const order = new Int32Array(count);
  const kept = new Int32Array(size).fill(-1);
  for (let row = 0; row < size; row++) {
    if (keep[row] === 0) continue;
    const at = place[key(row)] as number;
    place[key(row)] = at + 1;
    order[at] = row;
    kept[row] = at;
  }
  return { order, kept };
}

/**
 * The recursion of the kept rows, renumbered by {@link orderKept}: `u_i = Σ weight · u_older + e_i`, Var(e_i) = own (in units of G, above 0), weights without
 * unit. Everything a kept row descends from must be kept.
 * @example const { descent, kept: place } = workedEquations(); const order = Int32Array.of(place.indexOf(0));
 * const founder = place.map((at, row) => (row === order[0] ? 0 : -1));
 * keptRecursion(descent.part.recursion, order, founder) // { size: 1, start: [0, 0], older: [], own: [1] }
 */
export function keptRecursion(full: Recursion, order: Int32Array, kept: Int32Array): Recursion {
  const size = order.length;
  const start = new Int32Array(size + 1);
  for (let i = 0; i < size; i++) {
    const row = order[i] as number;
    start[i + 1] = (start[i] as number) + (full.start[row + 1] as number) - (full.start[row] as number);
  }
  const older = new Int32Array(start[size] as number);
  const weight = new Float64Array(start[size] as number);
  const own = new Float64Array(size);
  const level = new Int32Array(size);
  let at = 0;
  for (let i = 0; i < size; i++) {
    const row = order[i] as number;
    own[i] = full.own[row] as number;
    for (let k = full.start[row] as number; k < (full.start[row + 1] as number); k++) {
      const j = kept[full.older[k] as number] as number;
      older[at] = j;
      weight[at++] = full.weight[k] as number;
      level[i] = Math.max(level[i] as number, 1 + (level[j] as number));
    }
  }
  return { size, start, older, weight, own, level };
}
