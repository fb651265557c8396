/** Questions about the kinship of a stock: inbreeding, brood inbreeding, any pair, a queen with all, groups. */
import { partColumns } from '#numeric/recursion/part-columns.ts';
import { covarianceOfPair, covarianceWith, seed, settle } from '#numeric/recursion/recursion.ts';
import { type Pedigree, queenOf } from './laid-pedigree.ts';
import { NONE } from './stock.ts';

/**
 * Covariance of two nodes of the recursion: relationship of queens, coancestry of a queen and a pool, half the coancestry of two pools. One walk up
 * the ancestors of both.
 * @example const pedigree = workedPedigree(); const { queenNode, poolNode } = pedigree;
 * covarianceOfNodes(pedigree, queenNode[3], poolNode[2]) // 0.1875; Q1 and batch P: ½·½·¼ with Q3, ½·½·½ with C
 */
export function covarianceOfNodes(pedigree: Pedigree, a: number, b: number): number {
  if (a === b) return pedigree.self[a] as number;
  return covarianceOfPair(pedigree.walk, pedigree.founders, a, b);
}

/**
 * Inbreeding of a queen, 0-1: the probability that her two alleles at a place are alike by descent; 0 for a founder. For a group of
 * sisters, of any one of them. Throws when she is not in the stock.
 * @example inbreeding(workedPedigree(), 'Q1') // 0
 */
export const inbreeding = (pedigree: Pedigree, queen: string): number =>
  pedigree.inbreeding[queenOf(pedigree, queen)] as number;

/**
 * Inbreeding of the workers and daughters of a queen, 0-1: the coancestry of the queen and the pool she carries.
 * `null` when nothing is written about her mating. Throws when she is not in the stock.
 * @example broodInbreeding(workedPedigree(), 'Q1') // 0.1875
 */
export function broodInbreeding(pedigree: Pedigree, queen: string): number | null {
  const index = queenOf(pedigree, queen);
  if (pedigree.stock.columns.carries[index] === NONE) return null;
  return covarianceOfNodes(pedigree, pedigree.queenNode[index] as number, pedigree.carriedNode[index] as number);
}

/** So many queens of one pool are worth taking together; fewer are quicker one by one. */
const MANY = 8;
/** Queens between two words of progress. */
const TOLD_EVERY = 100_000;

/**
 * Coancestry of every queen with the pool she carries, by queen index: {@link broodInbreeding} of all, with 0 where nothing is written about her
 * mating. Queens who carry one pool are taken together.
 * @param progress told how many queens are done, of how many, about every 100,000
 * @example broodInbreedings(workedPedigree()) // [0, 0, 0, 0.1875, 0.1875, 0, 0]
 */
export function broodInbreedings(
  pedigree: Pedigree,
  progress: (done: number, whole: number) => void = () => undefined,
): Float64Array {
  const { queenNode, carriedNode } = pedigree;
  const out = new Float64Array(queenNode.length);
  const byPool = Int32Array.from(queenNode, (_, queen) => queen).sort(
    (a, b) => (carriedNode[a] as number) - (carriedNode[b] as number),
  );
  const partOfColumn = partColumns(pedigree.recursion);
  for (let from = 0; from < byPool.length; ) {
    const pool = carriedNode[byPool[from] as number] as number;
    let to = from + 1;
    while (to < byPool.length && carriedNode[byPool[to] as number] === pool) to++;
    const queens = byPool.subarray(from, to);
    if (queens.length < MANY)
      for (const queen of queens) out[queen] = covarianceOfNodes(pedigree, queenNode[queen] as number, pool);
    else {
      const nodes = queens.map((queen) => queenNode[queen] as number);
      const part = partOfColumn(pool, nodes);
      for (let k = 0; k < queens.length; k++) out[queens[k] as number] = part[k] as number;
    }
    if (Math.floor(to / TOLD_EVERY) > Math.floor(from / TOLD_EVERY)) progress(to, byPool.length);
    from = to;
  }
  return out;
}

/**
 * Relationship of the workers of every queen with one another, on average (also of two daughters raised from her): ¼ A_QQ + A_SS + A_QS.
 * By queen index; for a queen about whose mating nothing is written, with the open pool the model gives her.
 * @example workersRelationships(workedPedigree())[1] // 0.75; drones of one father: super-sisters
 */
export function workersRelationships(pedigree: Pedigree): Float64Array {
  const out = broodInbreedings(pedigree);
  for (let queen = 0; queen < out.length; queen++) {
    const [node, pool] = [pedigree.queenNode[queen] as number, pedigree.carriedNode[queen] as number];
    out[queen] = (out[queen] as number) + 0.25 * (pedigree.self[node] as number) + (pedigree.self[pool] as number);
  }
  return out;
}

/**
 * Relationship of two daughters (or workers) of one queen, on average, 0-1: ¼ A_QQ + A_SS + A_QS, as {@link workersRelationships} has it for all;
 * ¾ super-sisters, ¼ half-sisters. `null` when nothing is written about her mating. Throws when she is not in the stock.
 * @example daughtersRelationship(workedPedigree(), 'B') // 0.75; B carries the sperm of one drone
 */
export function daughtersRelationship(pedigree: Pedigree, queen: string): number | null {
  const brood = broodInbreeding(pedigree, queen);
  if (brood === null) return null;
  const index = queenOf(pedigree, queen);
  const selfOf = (nodes: Int32Array) => pedigree.self[nodes[index] as number] as number;
  return brood + 0.25 * selfOf(pedigree.queenNode) + selfOf(pedigree.carriedNode);
}

/**
 * Additive relationship of two queens by id, 0-2: 0 unrelated, ½ mother and daughter, ¾ super-sisters; 1 + F for a queen with herself. Throws when
 * one is not in the stock.
 * @example relationship(workedPedigree(), 'A', 'Q1') // 0.5
 */
export const relationship = (pedigree: Pedigree, a: string, b: string): number =>
  covarianceOfNodes(pedigree, nodeOf(pedigree, a), nodeOf(pedigree, b));

/**
 * Coancestry of two queens: half their additive relationship (Malécot 1948); the inbreeding of a daughter if one gave an egg and the other the
 * drone.
 * @example coancestry(workedPedigree(), 'A', 'Q1') // 0.25
 */
export const coancestry = (pedigree: Pedigree, a: string, b: string): number => relationship(pedigree, a, b) / 2;

/**
 * Relationship of one queen with every queen of the stock, in order of queen index (`pedigree.stock.names.queenIndex`).
 * Two sweeps over the pedigree (Colleau 2002, Genet Sel Evol 34:409), so far cheaper than pairs one by one. Throws when she is not in the stock.
 * @example relationshipsWith(workedPedigree(), 'A') // [1, 0, 0, 0.5, 0.5, 0, 0]
 */
export function relationshipsWith(pedigree: Pedigree, queen: string): Float64Array {
  const h = new Float64Array(pedigree.recursion.size);
  h[nodeOf(pedigree, queen)] = 1;
  const column = covarianceWith(pedigree.recursion, h);
  return Float64Array.from(pedigree.queenNode, (node) => column[node] as number);
}

/** A queen of a group by id, and her share in it, > 0; shares are scaled to add up to 1. */
type Member = { queen: string; share: number };

/** Nodes of a group with shares that add up to 1; throws when one is not in the stock, before anything is seeded. */
function termsOf(pedigree: Pedigree, members: readonly Member[]): { node: number; share: number }[] {
  const whole = members.reduce((sum, member) => sum + member.share, 0);
  return members.map(({ queen, share }) => ({ node: nodeOf(pedigree, queen), share: share / whole }));
}

/**
 * Mean relationship within a group of queens by their contributions, `x'Ax` with shares x scaled to add up to 1 (self relationships
 * included); half of it is the group coancestry. Empty group: 0. Throws when a queen is not in the stock.
 * @example groupRelationship(workedPedigree(), [{ queen: 'A', share: 1 }, { queen: 'Q1', share: 1 }]) // 0.75; (1 + ½ + ½ + 1)/4
 */
export function groupRelationship(pedigree: Pedigree, members: readonly Member[]): number {
  for (const { node, share } of termsOf(pedigree, members)) seed(pedigree.walk, node, share, share);
  return settle(pedigree.walk);
}

/**
 * Mean relationship between two groups of queens, `x'Ay`: how related two lines are, or one queen with the drone mothers of a place.
 * Shares of each group are scaled to add up to 1; 0 where one is empty. Throws when a queen is not in the stock.
 * @example relationshipBetween(workedPedigree(), [{ queen: 'Q1', share: 1 }], [{ queen: 'A', share: 1 }, { queen: 'C', share: 1 }]) // 0.5
 */
export function relationshipBetween(pedigree: Pedigree, one: readonly Member[], other: readonly Member[]): number {
  const [left, right] = [termsOf(pedigree, one), termsOf(pedigree, other)];
  for (const { node, share } of left) seed(pedigree.walk, node, share, 0);
  for (const { node, share } of right) seed(pedigree.walk, node, 0, share);
  return settle(pedigree.walk);
}

const nodeOf = (pedigree: Pedigree, queen: string): number => pedigree.queenNode[queenOf(pedigree, queen)] as number;
