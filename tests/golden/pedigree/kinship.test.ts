import { expect, test } from 'vitest';
import { covarianceOfNodes, relationshipsWith } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { factsOf, readFixture } from './fixture.ts';

const lay = (name: string): { pedigree: Pedigree; fixture: ReturnType<typeof readFixture> } => {
  const fixture = readFixture(name);
  const laid = layPedigreeOf(factsOf(fixture));
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return { pedigree: laid.pedigree, fixture };
};

const nodeOf = (pedigree: Pedigree, id: string): number => {
  const { names } = pedigree.stock;
  const queen = names.queenIndex(id);
  return (queen >= 0 ? pedigree.queenNode[queen] : pedigree.poolNode[names.poolIndex(id)]) ?? -1;
};

// Source: README.md beside this file (dense algebra and gene dropping). Tolerance 1e-9 is asked of every kinship.
test.each(['every-mating', 'shared-batch'])('%s: every relationship, own variance and inbreeding', (name) => {
  const { pedigree, fixture } = lay(name);
  const ids = fixture.nodes.map((node) => node.id);
  for (const [i, a] of ids.entries()) {
    for (const [j, b] of ids.entries()) {
      const value = covarianceOfNodes(pedigree, nodeOf(pedigree, a), nodeOf(pedigree, b));
      expect(Math.abs(value - (fixture.A[i]?.[j] ?? Number.NaN)), `${a} ${b}`).toBeLessThan(1e-9);
    }
    expect(Math.abs((pedigree.recursion.own[nodeOf(pedigree, a)] ?? 9) - (fixture.d[i] ?? 0)), `d ${a}`).toBeLessThan(
      1e-9,
    );
    const queen = pedigree.stock.names.queenIndex(a);
    if (queen >= 0) {
      expect(Math.abs((pedigree.inbreeding[queen] ?? 9) - (fixture.F[a] ?? 0)), `F ${a}`).toBeLessThan(1e-9);
      const column = relationshipsWith(pedigree, a);
      for (const [j, b] of ids.entries()) {
        const other = pedigree.stock.names.queenIndex(b);
        if (other >= 0) expect(Math.abs((column[other] ?? 9) - (fixture.A[i]?.[j] ?? 0))).toBeLessThan(1e-9);
      }
    }
  }
});
