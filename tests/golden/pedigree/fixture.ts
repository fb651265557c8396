import { readFileSync } from 'node:fs';
import type { PedigreeFacts, PoolFact, QueenFact, SourceFact } from '#domain/pedigree/facts.ts';

type From = [kind: 'queen' | 'group' | 'pool', id: string, share: number, drones: number | null];
type Node = { id: string; kind: 'Q' | 'S' | 'G'; dam?: string; sem?: string; J?: number; n?: number; from?: From[] };

export type Fixture = {
  nodes: Node[];
  d: number[];
  F: Record<string, number | null>;
  A: number[][];
  Ainv: number[][];
};

export const readFixture = (name: string): Fixture =>
  JSON.parse(readFileSync(new URL(`./${name}.json`, import.meta.url), 'utf8')) as Fixture;

const source = ([kind, id, share, drones]: From): SourceFact =>
  kind === 'pool'
    ? { pool: id, share, draws: drones }
    : { queen: id, share, drones: drones ?? Number.POSITIVE_INFINITY };

/** The nodes of a fixture as facts. Daughters name their pool outright, so nothing hangs on who carries what. */
export function factsOf(fixture: Fixture): PedigreeFacts {
  const queens: QueenFact[] = [];
  const pools: PoolFact[] = [];
  for (const node of fixture.nodes) {
    if (node.kind === 'S') {
      const sources = node.from?.length
        ? node.from.map(source)
        : [{ open: true as const, share: 1, drones: node.n ?? 0 }];
      pools.push({ id: node.id, sources });
    } else {
      queens.push({ id: node.id, dam: node.dam ?? null, fromPool: node.sem ?? null, sisters: node.J ?? 1 });
    }
  }
  return { queens, pools };
}
