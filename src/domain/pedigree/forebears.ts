import { orderOf, type RawNodes } from './node-order.ts';
import { FROM_POOL, NO_DAY, NONE, type StockColumns } from './stock.ts';

/**
 * The forebear of every queen whose day of emergence is known and the latest, as a queen index; NONE where none has a day. A forebear with a day of
 * her own stands for all above her; queens without one, and batches made of batches, are passed. A pool of alternatives ends the way up, since either
 * may be the true one. `null` where every queen's day stands between her and what is above, so that mothers and drone mothers say all.
 * @param level of each raw node, above those of all it descends from ({@link ./node-order.ts}); no loops
 * @example const queens = [{ id: 'A', born: '2024-06-01' }, { id: 'B', dam: 'A' }, { id: 'C', dam: 'B', born: '2026-06-01' }];
 * const { columns } = gatherStock({ queens, pools: [] }).stock; const nodes = rawNodes(columns);
 * youngestForebears(columns, nodes, levelsOf(nodes).level) // [NONE, 0, 0]; B has no day, so A is looked at past her
 */
export function youngestForebears(columns: StockColumns, nodes: RawNodes, level: Int32Array): Int32Array | null {
  const { queens, born } = columns;
  const passes = born.some((day, i) => day === NO_DAY && columns.dam[i] !== NONE);
  if (!passes && !columns.sourceKind.includes(FROM_POOL)) return null;
  const above = new Int32Array(nodes.count).fill(NONE);
  for (const node of orderOf(nodes, level)) {
    if (node >= queens && columns.oneOf[node - queens] === 1) continue;
    for (let k = nodes.start[node] as number; k < (nodes.start[node + 1] as number); k++) {
      const older = nodes.older[k] as number;
      const isDated = older < queens && born[older] !== NO_DAY;
      const queen = isDated ? older : (above[older] as number);
      const best = above[node] as number;
      if (queen !== NONE && (best === NONE || (born[queen] as number) > (born[best] as number))) above[node] = queen;
    }
  }
  return above.subarray(0, queens);
}
