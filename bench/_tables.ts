/** Simulated stocks as the files a breeder would give: QUEENS.csv, SEMEN.csv, RECORDS.csv, MODEL.json. */
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { FROM_QUEEN, NONE, sourcesOf } from '#domain/pedigree/stock.ts';
import type { Model } from '#domain/worth/model.ts';
import type { Records } from '#domain/worth/records.ts';

const day = (born: number): string =>
  `${String(born).slice(0, 4)}-${String(born).slice(4, 6)}-${String(born).slice(6)}`;

/** The stock with shared pools as batches; a pool that one queen alone carries stands in her own row. */
export function queensTable({ stock }: Pedigree): { queens: string; semen: string } {
  const { columns, names } = stock;
  const carriers = new Int32Array(columns.pools);
  for (const pool of columns.carries) if (pool !== NONE) carriers[pool] = (carriers[pool] as number) + 1;
  const isOwn = (pool: number): boolean => {
    const [from, to] = sourcesOf(columns, pool);
    return carriers[pool] === 1 && to - from === 1 && columns.sourceKind[from] === FROM_QUEEN;
  };
  const rows = ['queen,dam,born,mated_to,drones,semen'];
  for (let i = 0; i < columns.queens; i++) {
    const dam = columns.dam[i] === NONE ? '' : names.queenName(columns.dam[i] as number);
    const pool = columns.carries[i] as number;
    const [from] = pool === NONE ? [0] : sourcesOf(columns, pool);
    const mating =
      pool === NONE
        ? ',,'
        : isOwn(pool)
          ? `${names.queenName(columns.sourceRef[from] as number)},${columns.sourceDrones[from]},`
          : `,,B${pool}`;
    rows.push(`${names.queenName(i)},${dam},${day(columns.born[i] as number)},${mating}`);
  }
  const batches = ['batch,source,share,drones'];
  for (let p = 0; p < columns.pools; p++) {
    if (isOwn(p)) continue;
    const [from, to] = sourcesOf(columns, p);
    for (let s = from; s < to; s++) {
      const ref = columns.sourceRef[s] as number;
      const source = columns.sourceKind[s] === FROM_QUEEN ? names.queenName(ref) : `B${ref}`;
      const drones = columns.sourceDrones[s] as number;
      batches.push(`B${p},${source},${columns.sourceShare[s]},${Number.isFinite(drones) ? drones : ''}`);
    }
  }
  return { queens: `${rows.join('\n')}\n`, semen: `${batches.join('\n')}\n` };
}

/** Records under a model whose fixed effect is `yard:year`; levels are called `yard N:YEAR`. */
export function recordsTable({ stock }: Pedigree, records: Records, model: Model): string {
  const t = model.traits.length;
  const factor = records.factors[0];
  const rows = [`queen,yard,year,${model.traits.join(',')}`];
  for (let r = 0; r < records.count; r++) {
    const [yard = '', year = ''] = (factor?.names[factor.level[r] as number] ?? '').split(':');
    const values = Array.from(records.values.subarray(r * t, (r + 1) * t), (v) =>
      Number.isNaN(v) ? '' : v.toFixed(4),
    );
    rows.push(`${stock.names.queenName(records.queen[r] as number)},${yard},${year},${values.join(',')}`);
  }
  return `${rows.join('\n')}\n`;
}

const rows = (a: Float64Array, size: number): number[][] =>
  Array.from({ length: size }, (_, i) => [...a.subarray(i * size, (i + 1) * size)]);

export const modelFile = ({ traits, G, R }: Model): string =>
  JSON.stringify({ traits, fixed: ['yard:year'], G: rows(G, 2 * traits.length), R: rows(R, traits.length) });
