/** `kinship --all` on random stocks of every mating, read from files, beside genes dropped through explicit drones. */

import { kinship } from '#cli/commands/kinship.ts';
import { readGiven } from '#cli/given.ts';
import type { PedigreeFacts } from '#domain/pedigree/facts.ts';
import type { KinshipReport } from '#domain/pedigree/kinship-report.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { dropGenes, zOf } from './gene-drop.ts';
import { randomStock } from './random-stock.ts';
import { stockFiles } from './stock-files.ts';

/** Alternatives with one drone each, so that the files can say them. */
function writable(facts: PedigreeFacts): PedigreeFacts {
  const pools = facts.pools.map((pool) =>
    pool.oneOf ? { ...pool, sources: pool.sources.map((source) => ({ ...source, drones: 1 })) } : pool,
  );
  return { ...facts, pools };
}

async function kinshipOf(facts: PedigreeFacts): Promise<KinshipReport> {
  const { queens, semen } = stockFiles(facts);
  const files: Record<string, string> = { 'q.csv': queens, 's.csv': semen };
  const { json } = await kinship.run(readGiven(kinship, ['--queens', 'q.csv', '--semen', 's.csv', '--all']), {
    read: async (path) => new TextEncoder().encode(files[path] ?? ''),
    write: () => Promise.reject(new Error('no file is written')),
    tell: () => undefined,
  });
  return json as KinshipReport;
}

export type KinshipComparison = {
  count: number;
  largest: number;
  meanSquare: number;
  where: string;
  kinds: Set<string>;
};

/** z of every relationship, inbreeding and brood inbreeding; fixed seeds. */
export async function compareWithGeneDrops(wish: { stocks: number; replicates: number }): Promise<KinshipComparison> {
  let [count, sum, largest, where] = [0, 0, 0, ''];
  const kinds = new Set<string>();
  for (let seed = 1; seed <= wish.stocks; seed++) {
    const facts = writable(randomStock(seed));
    for (const pool of facts.pools)
      kinds.add(pool.oneOf ? 'one of' : pool.sources.map((s) => Object.keys(s)[0]).join());
    const report = await kinshipOf(facts);
    const dropped = dropGenes(facts, wish.replicates, randomStream(1000 + seed));
    const compare = (z: number | null, what: string) => {
      if (z === null) return;
      count++;
      sum += z * z;
      if (Math.abs(z) <= largest) return;
      [largest, where] = [Math.abs(z), `seed ${seed}, ${what}`];
    };
    const pairs = new Map(
      report.pairs.flatMap(({ a, b, relationship }) => [
        [`${a} ${b}`, relationship],
        [`${b} ${a}`, relationship],
      ]),
    );
    const queens = new Map(report.queens.map((one) => [one.queen, one]));
    for (const [pair, tally] of dropped.relationship) compare(zOf(tally, pairs.get(pair) ?? Number.NaN), pair);
    for (const [id, tally] of dropped.inbreeding)
      compare(zOf(tally, queens.get(id)?.inbreeding ?? Number.NaN), `F ${id}`);
    for (const [id, tally] of dropped.brood)
      compare(zOf(tally, queens.get(id)?.broodInbreeding ?? Number.NaN), `brood ${id}`);
  }
  return { count, largest, meanSquare: sum / count, where, kinds };
}
