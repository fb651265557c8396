import { expect, test } from 'vitest';
import { relationship, relationshipsWith } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { compareWithGeneDrops } from '../oracles/compare-kinship.ts';
import { randomStock } from '../oracles/random-stock.ts';

const STOCKS = 20;

// Oracle: gene dropping with explicit drones (tests/oracles/gene-drop.ts), fixed seeds; more replicates in `npm run measure -- engine`.
test('kinship --all of 20 random stocks of every mating agrees with genes dropped through explicit drones', {
  timeout: 120_000,
}, async () => {
  const found = await compareWithGeneDrops({ stocks: STOCKS, replicates: 1000 });
  expect(found.count).toBeGreaterThan(4000);
  expect(found.largest, found.where).toBeLessThanOrEqual(5);
  expect(found.kinds.size).toBeGreaterThanOrEqual(8);
  expect(found.meanSquare).toBeGreaterThan(0.9);
  expect(found.meanSquare).toBeLessThan(1.1);
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
