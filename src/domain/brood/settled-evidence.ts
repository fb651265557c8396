/** Evidence by node, with labels as allele numbers; or what is wrong with it. */
import { refuse } from '#units/problem.ts';
import type { Pedigree } from '../pedigree/laid-pedigree.ts';
import { NONE } from '../pedigree/stock.ts';
import type { BroodProblem, BroodProblemCode, Evidence } from './evidence.ts';

export type Count = { queen: number; viable: number; cells: number };

export type SettledEvidence = {
  /** Known alleles by queen index. */
  known: ReadonlyMap<number, readonly [number, number]>;
  /** Brood counts by the node at which both the queen and her pool have been dropped. */
  counts: ReadonlyMap<number, Count[]>;
  otherLoss: number;
};

/** Labels are numbered as they come: founders draw from exchangeable alleles, so which number a label gets is the same to them. */
export function settleEvidence(
  pedigree: Pedigree,
  evidence: Evidence,
  alleles: number,
): { evidence: SettledEvidence; problems: [] } | { evidence: null; problems: BroodProblem[] } {
  const problems: BroodProblem[] = [];
  const queenAt = (id: string, path: string): number => {
    const queen = pedigree.stock.names.queenIndex(id);
    const wrong = (code: BroodProblemCode) => problems.push(refuse(`${path}.queen`, code, { found: id }));
    if (queen === NONE) wrong('brood-evidence-queen-unknown');
    else if ((pedigree.stock.columns.sisters[queen] as number) > 1) wrong('brood-evidence-group');
    return queen;
  };
  const known = knownAlleles(evidence, queenAt, { alleles, problems });
  const counts = new Map<number, Count[]>();
  for (const [i, count] of evidence.counts.entries()) {
    const queen = queenAt(count.queen, `counts.${i}`);
    const { viable, cells } = count;
    if (!(Number.isInteger(viable) && Number.isInteger(cells) && viable >= 0 && cells >= 1 && viable <= cells)) {
      problems.push(refuse(`counts.${i}`, 'brood-count-impossible', { found: `${viable} of ${cells}` }));
    }
    if (queen === NONE) continue;
    const node = Math.max(pedigree.queenNode[queen] as number, pedigree.carriedNode[queen] as number);
    counts.set(node, [...(counts.get(node) ?? []), { queen, viable, cells }]);
  }
  if (problems.length > 0) return { evidence: null, problems };
  return { evidence: { known, counts, otherLoss: evidence.otherLoss ?? 0 }, problems: [] };
}

type QueenAt = (id: string, path: string) => number;

function knownAlleles(
  evidence: Evidence,
  queenAt: QueenAt,
  { alleles, problems }: { alleles: number; problems: BroodProblem[] },
): Map<number, readonly [number, number]> {
  const numbers = new Map<string, number>();
  const numberOf = (label: string): number => {
    const known = numbers.get(label) ?? numbers.size;
    numbers.set(label, known);
    return known;
  };
  const known = new Map<number, readonly [number, number]>();
  for (const [i, typed] of evidence.alleles.entries()) {
    const queen = queenAt(typed.queen, `alleles.${i}`);
    const [one, two] = typed.alleles;
    if (one === two) problems.push(refuse(`alleles.${i}`, 'brood-alleles-alike', { found: one }));
    if (known.has(queen)) problems.push(refuse(`alleles.${i}.queen`, 'brood-alleles-twice', { found: typed.queen }));
    known.set(queen, [numberOf(one), numberOf(two)]);
  }
  if (numbers.size > alleles) {
    problems.push(refuse('alleles', 'brood-alleles-too-many', { found: numbers.size, alleles }));
  }
  return known;
}
