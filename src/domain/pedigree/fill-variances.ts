import { founderSets, mayShareFounder } from '#numeric/recursion/founder-sets.ts';
import { type Pair, seed, settle } from '#numeric/recursion/recursion.ts';
import { droneMotherAt, type Pedigree } from './laid-pedigree.ts';
import { drawVariance, droneVariance, openVariance } from './sampling.ts';
import { FROM_OPEN, FROM_QUEEN, NONE, OPEN_MATING_DRONES, sourcesOf } from './stock.ts';

/** A pedigree whose structure stands and whose variances are still 0; `order` gives the raw number of each node. */
export type Filling = Pedigree & { readonly order: Int32Array };

/**
 * Fills own variances, self relationships and inbreeding, oldest first, by the table of pedigree.ts; nodes marked 1 in `isKnown` (one a node) hold
 * theirs already. One walk up the ancestors a family (dam and pool) and a pool of several sources; sisters side by side share it.
 */
export function fillVariances(f: Filling, isKnown?: Uint8Array): void {
  const { queens, pools, sisters } = f.stock.columns;
  const { order, recursion } = f;
  const families: Families = {
    pool: new Int32Array(recursion.size),
    inbreeding: new Float64Array(recursion.size),
    pair: { sets: founderSets(recursion), left: NONE, right: NONE },
  };
  const open = openVariance(OPEN_MATING_DRONES);
  const hasGroups = isAnyGroup(sisters);
  let node = 0;
  while (node < recursion.size) {
    if (isKnown !== undefined && isKnown[node] === 1) {
      node++;
      continue;
    }
    const raw = order[node] as number;
    if (raw < queens && !(hasGroups && (sisters[raw] as number) > 1)) {
      fillQueen(f, node, families);
      f.inbreeding[raw] = (f.self[node] as number) - 1;
      node = hasGroups || isKnown !== undefined ? node + 1 : fillSisters(f, node);
      continue;
    }
    if (raw >= queens + pools) fillOwn(f, node, open, open);
    else if (raw >= queens) fillPool(f, node, raw - queens);
    else fillGroup(f, { node, queen: raw, families });
    node++;
  }
}

function isAnyGroup(sisters: Int32Array): boolean {
  for (let i = 0; i < sisters.length; i++) if ((sisters[i] as number) > 1) return true;
  return false;
}

/** Sisters of the queen at `node` who stand right after her, in a stock without groups, have her numbers; answers the node after them. */
function fillSisters({ recursion, self, inbreeding, order, stock }: Filling, node: number): number {
  const { start, older, own, size } = recursion;
  const { queens } = stock.columns;
  const first = start[node] as number;
  if ((start[node + 1] as number) - first !== 2) return node + 1;
  const [dam, pool] = [older[first] as number, older[first + 1] as number];
  const [ownOfAll, selfOfAll] = [own[node] as number, self[node] as number];
  let next = node + 1;
  for (let k = first + 2; next < size; next++, k += 2) {
    const raw = order[next] as number;
    if (older[k] !== dam || older[k + 1] !== pool || start[next + 1] !== k + 2 || raw >= queens) break;
    own[next] = ownOfAll;
    self[next] = selfOfAll;
    inbreeding[raw] = selfOfAll - 1;
  }
  return next;
}

function fillOwn(f: Filling, node: number, own: number, self: number): void {
  f.recursion.own[node] = own < ROUNDING ? 0 : own;
  f.self[node] = self;
}

/** Own variances below this are rounding of an exact 0 (a sperm drawn from a single drone, a mixture of whole batches). */
const ROUNDING = 1e-13;

/** By node of a dam: the pool of the daughters looked at last plus one (0 = none yet), and their inbreeding. Nearly every dam has one pool. */
type Families = {
  readonly pool: Int32Array;
  readonly inbreeding: Float64Array;
  readonly pair: Pair;
};

/** Inbreeding of daughters of a dam and pool: their covariance, by one walk a family, and none where they share no founder. */
function familyInbreeding(f: Filling, dam: number, pool: number, families: Families): number {
  if (families.pool[dam] === pool + 1) return families.inbreeding[dam] as number;
  let inbreeding = 0;
  const { pair } = families;
  if (mayShareFounder(pair.sets, dam, pool)) {
    pair.left = dam;
    pair.right = pool;
    seed(f.walk, dam, 1, 0);
    seed(f.walk, pool, 0, 1);
    inbreeding = settle(f.walk, pair);
  }
  families.pool[dam] = pool + 1;
  families.inbreeding[dam] = inbreeding;
  return inbreeding;
}

/** A queen: only numbers that lie in the order of the nodes are read, because there are a million of her. */
function fillQueen(f: Filling, node: number, families: Families): void {
  const { start, older } = f.recursion;
  const first = start[node] as number;
  const terms = (start[node + 1] as number) - first;
  if (terms === 0) {
    fillOwn(f, node, 1, 1);
    return;
  }
  const pool = older[first + terms - 1] as number;
  const poolSelf = f.self[pool] as number;
  if (terms === 1) {
    fillOwn(f, node, 1 - poolSelf, 1);
    return;
  }
  const dam = older[first] as number;
  const damInbreeding = (f.self[dam] as number) - 1;
  fillOwn(f, node, 0.25 * (1 - damInbreeding) + 0.5 - poolSelf, 1 + familyInbreeding(f, dam, pool, families));
}

/** The mean of a group of sisters; unknown parents are one unrelated queen, open mated. */
function fillGroup(f: Filling, { node, queen, families }: { node: number; queen: number; families: Families }): void {
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
  const inbreeding = familyInbreeding(f, dam, pool, families);
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

/** Drones of one queen: half of her, and ¼(1 − F)/n of their own; nearly every pool is one of these. */
function fillFromOneMother(f: Filling, node: number, drones: number): void {
  const mother = f.recursion.older[f.recursion.start[node] as number] as number;
  const self = f.self[mother] as number;
  const own = (0.25 * (2 - self)) / drones;
  fillOwn(f, node, own, 0.25 * self + own);
}

function fillPool(f: Filling, node: number, pool: number): void {
  const { columns } = f.stock;
  const first = columns.sourceStart[pool] as number;
  if (columns.sourceStart[pool + 1] === first + 1 && columns.sourceKind[first] === FROM_QUEEN) {
    const mother = columns.sourceRef[first] as number;
    if (columns.sisters[mother] === 1) {
      fillFromOneMother(f, node, columns.sourceDrones[first] as number);
      return;
    }
  }
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
