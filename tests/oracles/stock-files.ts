/** Facts of a stock as the files a breeder would write: every pool a batch, but for one-or-the-other matings, which stand in the queen's own row. */
import type { PedigreeFacts, PoolFact, SourceFact } from '#domain/pedigree/facts.ts';

const sourceName = (source: SourceFact): string =>
  'open' in source ? 'open' : 'queen' in source ? source.queen : source.pool;

/** Written for more drones than are ever met twice. */
const MANY = 1e9;

function batchRows({ id, sources }: PoolFact): string[] {
  return sources.map((source) => {
    const drones = 'pool' in source ? (source.draws ?? '') : Math.min(source.drones, MANY);
    return `${id},${sourceName(source)},${source.share},${drones}`;
  });
}

/** QUEENS.csv and SEMEN.csv. The alternatives of a one-or-the-other pool must have the same number of drones. */
export function stockFiles(facts: PedigreeFacts): { queens: string; semen: string } {
  const pools = new Map(facts.pools.map((pool) => [pool.id, pool]));
  const queens = facts.queens.map((queen) => {
    const pool = queen.pool ? pools.get(queen.pool) : undefined;
    const mating = !pool
      ? ',,'
      : pool.oneOf
        ? `${pool.sources.map((s) => `${sourceName(s)}:${s.share}`).join('|')},${'drones' in (pool.sources[0] as SourceFact) ? (pool.sources[0] as { drones: number }).drones : ''},`
        : `,,${pool.id}`;
    return `${queen.id},${queen.dam ?? ''},${mating},${queen.sisters ?? 1}`;
  });
  const batches = facts.pools.filter((pool) => !pool.oneOf).flatMap(batchRows);
  return {
    queens: `queen,dam,mated_to,drones,semen,sisters\n${queens.join('\n')}\n`,
    semen: `batch,source,share,drones\n${batches.join('\n')}\n`,
  };
}
