import { expect, test } from 'vitest';
import { broodInbreeding, inbreeding, relationship, relationshipsWith } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { randomStream } from '#numeric/random/random-stream.ts';
import { dropGenes, zOf } from '../oracles/gene-drop.ts';
import { randomStock } from '../oracles/random-stock.ts';

const STOCKS = 20;
const REPLICATES = 1500;

// Oracle: gene dropping with explicit drones (tests/oracles/gene-drop.ts), fixed seeds.
test('20 random stocks of every mating agree with genes dropped through explicit drones', { timeout: 120_000 }, () => {
  const zs: number[] = [];
  const kinds = new Set<string>();
  for (let seed = 1; seed <= STOCKS; seed++) {
    const facts = randomStock(seed);
    for (const pool of facts.pools)
      kinds.add(pool.oneOf ? 'one of' : pool.sources.map((s) => Object.keys(s)[0]).join());
    const laid = layPedigreeOf(facts);
    if (laid.pedigree === null) throw new Error(`seed ${seed}: ${JSON.stringify(laid.problems)}`);
    const { pedigree } = laid;
    const dropped = dropGenes(facts, REPLICATES, randomStream(1000 + seed));
    const compare = (z: number | null, what: string) => {
      if (z === null) return;
      expect(Math.abs(z), `seed ${seed}, ${what}`).toBeLessThanOrEqual(5);
      zs.push(z);
    };
    for (const [pair, tally] of dropped.relationship) {
      const [a = '', b = ''] = pair.split(' ');
      compare(zOf(tally, relationship(pedigree, a, b)), pair);
    }
    for (const [id, tally] of dropped.inbreeding) compare(zOf(tally, inbreeding(pedigree, id)), `F ${id}`);
    for (const [id, tally] of dropped.brood)
      compare(zOf(tally, broodInbreeding(pedigree, id) ?? Number.NaN), `brood ${id}`);
  }
  expect(kinds.size).toBeGreaterThanOrEqual(8);
  const meanSquare = zs.reduce((sum, z) => sum + z * z, 0) / zs.length;
  expect(meanSquare).toBeGreaterThan(0.9);
  expect(meanSquare).toBeLessThan(1.1);
});

test('a column holds the same relationships as pairs, on the same stocks', () => {
  for (let seed = 1; seed <= STOCKS; seed++) {
    const { pedigree } = layPedigreeOf(randomStock(seed));
    if (pedigree === null) throw new Error(`seed ${seed}`);
    const { names, columns } = pedigree.stock;
    for (let i = 0; i < columns.queens; i += 5) {
      const column = relationshipsWith(pedigree, names.queenId(i));
      for (let j = 0; j < columns.queens; j++) {
        expect(column[j]).toBeCloseTo(relationship(pedigree, names.queenId(i), names.queenId(j)) + 0, 9);
      }
    }
  }
});
