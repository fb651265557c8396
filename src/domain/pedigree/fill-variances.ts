import { gatherFounders } from '#numeric/recursion/founder-sets.ts';
import { covarianceOfPair, seed, settle } from '#numeric/recursion/recursion.ts';
import { droneMotherAt, type Pedigree } from './laid-pedigree.ts';
import { drawVariance, droneVariance, openVariance } from './sampling.ts';
import { FROM_OPEN, FROM_QUEEN, NONE, OPEN_MATING_DRONES, sourcesOf } from './stock.ts';

/** A pedigree whose structure stands and whose variances are still 0; `order` gives the raw number of each node. */
export type Filling = Pedigree & { readonly order: Int32Array };

/**
 * Fills own variances, self relationships and inbreeding, oldest first, by the table of pedigree.ts; nodes marked 1 in `isKnown` (one a node) hold
 * theirs already. One walk up the ancestors a family (dam and pool) and a pool of several sources; sisters side by side share it. Nearly all nodes are
 * queens of known parents and pools of one drone mother: they are filled here, from numbers that lie in the order of the nodes.
 * @example const pedigree = workedPedigree(); const nodes = rawNodes(pedigree.stock.columns);
 * const filling = { ...pedigree, order: orderOf(nodes, levelsOf(nodes).level), self: new Float64Array(nodes.count), walk: makeWalk(pedigree.recursion) };
 * fillVariances(filling); filling.self[filling.poolNode[1]] // 0.5; the sperm of one drone are all alike
 */
export function fillVariances(f: Filling, isKnown?: Uint8Array): void {
  const { queens, pools, sisters } = f.stock.columns;
  const { order, recursion, self, inbreeding, founders } = f;
  const { size, start, older, own } = recursion;
  const daughters = new Int32Array(size);
  const hasGroups = isAnyGroup(sisters);
  noteDrones(f, isKnown);
  let [lastDam, lastPool, ownOfAll, selfOfAll] = [NONE, NONE, 0, 0];
  for (let node = 0; node < size; node++) {
    if (founders.at[node] !== 0) gatherFounders(founders, recursion, node);
    if (isKnown !== undefined && isKnown[node] === 1) continue;
    const raw = order[node] as number;
    const first = start[node] as number;
    if (raw >= queens) {
      const drones = own[node] as number;
      if (raw >= queens + pools) fillOwn(f, node, OPEN, OPEN);
      else if (drones === SEVERAL) fillPool(f, node, raw - queens);
      else {
        // drones of one queen: half of her, and ¼(1 − F)/n of their own
        const mother = self[older[first] as number] as number;
        const sampled = (0.25 * (2 - mother)) / drones;
        fillOwn(f, node, sampled, 0.25 * mother + sampled);
      }
    } else if (hasGroups && (sisters[raw] as number) > 1) fillGroup(f, { node, queen: raw, daughters });
    else if ((start[node + 1] as number) - first !== 2) fillOrphan(f, node, raw);
    else {
      const dam = older[first] as number;
      const pool = older[first + 1] as number;
      if (dam !== lastDam || pool !== lastPool) {
        lastDam = dam;
        lastPool = pool;
        ownOfAll = 0.25 * (2 - (self[dam] as number)) + 0.5 - (self[pool] as number);
        if (ownOfAll < ROUNDING) ownOfAll = 0;
        selfOfAll = 1 + familyInbreeding(f, { node, dam, pool, daughters });
      }
      own[node] = ownOfAll;
      self[node] = selfOfAll;
      inbreeding[raw] = selfOfAll - 1;
    }
  }
}

const OPEN = openVariance(OPEN_MATING_DRONES);

/** Stands for the number of drones of a pool that is not simply drones of one queen. */
const SEVERAL = 0;

/** Writes the number of drones of each pool that is simply drones of one queen where its own variance will stand: pools lie in their own order here. */
function noteDrones({ stock, poolNode, recursion: { own } }: Filling, isKnown?: Uint8Array): void {
  const { pools, sourceStart, sourceKind, sourceRef, sourceDrones, sisters } = stock.columns;
  for (let pool = 0; pool < pools; pool++) {
    const node = poolNode[pool] as number;
    if (isKnown !== undefined && isKnown[node] === 1) continue;
    const source = sourceStart[pool] as number;
    const isOfOne =
      sourceStart[pool + 1] === source + 1 &&
      sourceKind[source] === FROM_QUEEN &&
      sisters[sourceRef[source] as number] === 1;
    own[node] = isOfOne ? (sourceDrones[source] as number) : SEVERAL;
  }
}

function isAnyGroup(sisters: Int32Array): boolean {
  for (let i = 0; i < sisters.length; i++) if ((sisters[i] as number) > 1) return true;
  return false;
}

function fillOwn(f: Filling, node: number, own: number, self: number): void {
  f.recursion.own[node] = own < ROUNDING ? 0 : own;
  f.self[node] = self;
}

/** Own variances below this are rounding of an exact 0 (a sperm drawn from a single drone, a mixture of whole batches). */
const ROUNDING = 1e-13;

/** A family: a daughter, her dam and pool; `daughters` has by node of a dam the daughter looked at last plus one (0 = none yet). */
type Family = { node: number; dam: number; pool: number; daughters: Int32Array };

/**
 * Inbreeding of daughters of a dam and pool: their covariance, by one walk a family, and none where they share no founder. Nearly every dam has one
 * pool, so the daughter before is mostly of the same family.
 */
function familyInbreeding(f: Filling, { node, dam, pool, daughters }: Family): number {
  const { start, older } = f.recursion;
  const before = (daughters[dam] as number) - 1;
  daughters[dam] = node + 1;
  if (before >= 0 && older[(start[before + 1] as number) - 1] === pool)
    return f.inbreeding[f.order[before] as number] as number;
  return covarianceOfPair(f.walk, f.founders, dam, pool);
}

/** A queen of whom only the pool is known that her drones came from, or neither parent. */
function fillOrphan(f: Filling, node: number, queen: number): void {
  const { start, older } = f.recursion;
  const first = start[node] as number;
  fillOwn(f, node, start[node + 1] === first ? 1 : 1 - (f.self[older[first] as number] as number), 1);
  f.inbreeding[queen] = 0;
}

/** The mean of a group of sisters; unknown parents are one unrelated queen, open mated. */
function fillGroup(
  f: Filling,
  { node, queen, daughters }: { node: number; queen: number; daughters: Int32Array },
): void {
  const { start, older } = f.recursion;
  const sisters = f.stock.columns.sisters[queen] as number;
  const first = start[node] as number;
  const terms = (start[node + 1] as number) - first;
  if (terms === 0) {
    const alike = 0.25 + openVariance(OPEN_MATING_DRONES);
    fillOwn(f, node, alike + (1 - alike) / sisters, alike + (1 - alike) / sisters);
    return;
  }
  const pool = older[first + terms - 1] as number;
  const poolSelf = f.self[pool] as number;
  if (terms === 1) {
    fillOwn(f, node, (1 - poolSelf) / sisters, poolSelf + (1 - poolSelf) / sisters);
    return;
  }
  const dam = older[first] as number;
  const damSelf = f.self[dam] as number;
  const inbreeding = familyInbreeding(f, { node, dam, pool, daughters });
  f.inbreeding[queen] = inbreeding;
  const own = (0.25 * (2 - damSelf) + 0.5 - poolSelf) / sisters;
  fillOwn(f, node, own, 0.25 * damSelf + poolSelf + inbreeding + own);
}

/** Variance one source of a pool adds by the sampling of drones or draws, and what it inherits, each for a share of 1. */
function sourceVariance(f: Filling, source: number): { sampled: number; inherited: number } {
  const { columns } = f.stock;
  const drones = columns.sourceDrones[source] as number;
  const ref = columns.sourceRef[source] as number;
  if (columns.sourceKind[source] === FROM_OPEN) {
    return { sampled: openVariance(drones, columns.sourceAlike[source]), inherited: 0 };
  }
  if (columns.sourceKind[source] === FROM_QUEEN) {
    const mother = droneMotherAt(f, ref);
    return { sampled: droneVariance(mother, drones), inherited: 0.25 * mother.self };
  }
  const whole = f.self[f.poolNode[ref] as number] as number;
  return { sampled: drawVariance(whole, drones), inherited: whole };
}

/** `b'Ab` of a node: the variance of what it has from its older neighbours. */
function inheritedVariance(f: Filling, node: number): number {
  const { recursion } = f;
  const first = recursion.start[node] as number;
  const stop = recursion.start[node + 1] as number;
  if (first === stop) return 0;
  if (stop - first === 1)
    return (recursion.weight[first] as number) ** 2 * (f.self[recursion.older[first] as number] as number);
  for (let k = first; k < stop; k++) {
    seed(f.walk, recursion.older[k] as number, recursion.weight[k] as number, recursion.weight[k] as number);
  }
  return settle(f.walk);
}

function fillPool(f: Filling, node: number, pool: number): void {
  const { columns } = f.stock;
  const inherited = inheritedVariance(f, node);
  const [from, to] = sourcesOf(columns, pool);
  const oneOf = columns.oneOf[pool] === 1;
  let own = oneOf ? -inherited : 0;
  for (let s = from; s < to; s++) {
    const share = columns.sourceShare[s] as number;
    const variance = sourceVariance(f, s);
    own += oneOf ? share * (variance.sampled + variance.inherited) : share * share * variance.sampled;
  }
  fillOwn(f, node, own, inherited + own);
}
