import { describe, expect, test } from 'vitest';
import { covarianceOfNodes } from '#domain/pedigree/kinship.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { inverseColumns } from '#numeric/recursion/inverse-columns.ts';
import { positivePart } from '#numeric/recursion/positive-part.ts';
import { randomStock } from '../../oracles/random-stock.ts';
import { factsOf, readFixture } from './fixture.ts';

// Source: README.md beside this file.
test.each(['every-mating', 'shared-batch'])('%s: the sparse inverse is the dense one', (name) => {
  const fixture = readFixture(name);
  const { pedigree } = layPedigreeOf(factsOf(fixture));
  if (pedigree === null) throw new Error(name);
  const used = new Set<number>();
  const nodeOf = fixture.nodes.map(({ id }) => {
    const queen = pedigree.stock.names.queenIndex(id);
    const node = queen >= 0 ? pedigree.queenNode[queen] : pedigree.poolNode[pedigree.stock.names.poolIndex(id)];
    used.add(node ?? -1);
    return node ?? -1;
  });
  // the open pools of queens without a mating are nodes of the model, but not of the fixture: they couple with nothing
  const { start, row, value } = inverseColumns(pedigree.recursion);
  let entries = 0;
  for (const [j, b] of nodeOf.entries()) {
    const column = new Map<number, number>();
    for (let k = start[b] ?? 0; k < (start[b + 1] ?? 0); k++) column.set(row[k] ?? -1, value[k] ?? 0);
    entries += [...column.keys()].filter((i) => used.has(i)).length;
    for (const [i, a] of nodeOf.entries()) {
      expect(Math.abs((column.get(a) ?? 0) - (fixture.Ainv[i]?.[j] ?? 9e9)), `${i} ${j}`).toBeLessThan(1e-6);
    }
  }
  if (name === 'every-mating') expect(entries).toBe(79);
});

describe('random stocks of every mating', () => {
  test.each([1, 2, 3, 4])('stock %d: inverse times covariance is the identity, columns sorted', (seed) => {
    const { pedigree } = layPedigreeOf(randomStock(seed));
    if (pedigree === null) throw new Error('stock');
    const part = positivePart(pedigree.recursion);
    const { size, start, row, value } = inverseColumns(part.recursion);
    for (let j = 0; j < size; j++) {
      for (let i = 0; i < size; i++) {
        let sum = 0;
        for (let k = start[j] ?? 0; k < (start[j + 1] ?? 0); k++) {
          if (k > (start[j] ?? 0)) expect(row[k]).toBeGreaterThan(row[k - 1] ?? 0);
          sum += (value[k] ?? 0) * covarianceOfNodes(pedigree, part.from[row[k] ?? -1] ?? -1, part.from[i] ?? -1);
        }
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 8);
      }
    }
  });
});
