import { sayAssumption } from './assumption.ts';
import { broodInbreedings, relationship, relationshipsWith } from './kinship.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { assumptionsOf } from './pedigree.ts';
import { NONE } from './stock.ts';

/**
 * What `kinship` answers, queens by name. `relationship` is the additive relationship A, 0-2, `coancestry` half of it; `broodInbreeding` null where
 * nothing is written about her mating.
 */
export type KinshipReport = {
  queens: { queen: string; inbreeding: number; broodInbreeding: number | null }[];
  pairs: { a: string; b: string; relationship: number; coancestry: number }[];
  assumptions: string[];
};

/** Which pairs to tell: those named (by id), and with `all` every unordered pair of different queens once. */
export type KinshipAsked = {
  pairs?: readonly (readonly [string, string])[];
  all?: boolean;
  /** Told of how many queens the brood is done, of how many; nothing in small stocks. */
  progress?: (done: number, whole: number) => void;
};

const pair = (a: string, b: string, value: number) => ({ a, b, relationship: value, coancestry: value / 2 });

/**
 * Inbreeding of every queen and of her brood, and the pairs asked for. Throws when a pair names a queen that is not in the stock. With `all` time
 * and memory grow with the square of the queens.
 * @example kinshipReport(workedPedigree(), { pairs: [['A', 'Q1']] }).pairs // [{ a: 'A', b: 'Q1', relationship: 0.5, coancestry: 0.25 }]
 */
export function kinshipReport(pedigree: Pedigree, asked: KinshipAsked = {}): KinshipReport {
  const { names, columns } = pedigree.stock;
  const name = (queen: number) => names.queenName(queen);
  const ofBrood = broodInbreedings(pedigree, asked.progress);
  const queens = Array.from({ length: columns.queens }, (_, queen) => ({
    queen: name(queen),
    inbreeding: pedigree.inbreeding[queen] as number,
    broodInbreeding: columns.carries[queen] === NONE ? null : (ofBrood[queen] as number),
  }));
  const called = (id: string) => name(names.queenIndex(id));
  const pairs = (asked.pairs ?? []).map(([a, b]) => pair(called(a), called(b), relationship(pedigree, a, b)));
  for (let i = 0; asked.all && i < columns.queens - 1; i++) {
    for (const one of pairsFrom(pedigree, i, name)) pairs.push(one);
  }
  return { queens, pairs, assumptions: assumptionsOf(pedigree).map(sayAssumption) };
}

function pairsFrom(pedigree: Pedigree, queen: number, name: (queen: number) => string) {
  const column = relationshipsWith(pedigree, pedigree.stock.names.queenId(queen));
  const a = name(queen);
  return Array.from({ length: column.length - queen - 1 }, (_, k) =>
    pair(a, name(queen + 1 + k), column[queen + 1 + k] as number),
  );
}
