import { seed, settle } from '#numeric/recursion/recursion.ts';
import { droneMotherAt, type Pedigree } from './laid-pedigree.ts';
import { drawVariance, droneVariance, openVariance } from './sampling.ts';
import { FROM_OPEN, FROM_QUEEN, NONE, OPEN_MATING_DRONES, sourcesOf } from './stock.ts';

/** A pedigree whose structure stands and whose variances are still 0; `order` gives the raw number of each node. */
export type Filling = Pedigree & { readonly order: Int32Array };

/** Fills own variances, self relationships and inbreeding, oldest first. */
export function fillVariances(f: Filling): void {
  const { queens, pools } = f.stock.columns;
  const family = { dam: NONE, pool: NONE, inbreeding: 0 };
  for (let node = 0; node < f.recursion.size; node++) {
    const raw = f.order[node] as number;
    if (raw < queens) fillQueen(f, { node, queen: raw, family });
    else if (raw < queens + pools) fillPool(f, node, raw - queens);
    else fillOwn(f, node, openVariance(OPEN_MATING_DRONES), openVariance(OPEN_MATING_DRONES));
  }
}

function fillOwn(f: Filling, node: number, own: number, self: number): void {
  f.recursion.own[node] = own < ROUNDING ? 0 : own;
  f.self[node] = self;
}

/** Own variances below this are rounding of an exact 0 (a sperm drawn from a single drone, a mixture of whole batches). */
const ROUNDING = 1e-13;

type Family = { dam: number; pool: number; inbreeding: number };

/** Covariance of two nodes by one walk. */
function between(f: Filling, a: number, b: number): number {
  seed(f.walk, a, 1, 0);
  seed(f.walk, b, 0, 1);
  return settle(f.walk);
}

function fillQueen(f: Filling, at: { node: number; queen: number; family: Family }): void {
  const { node, queen, family } = at;
  const { recursion, self } = f;
  const { columns } = f.stock;
  const sisters = columns.sisters[queen] as number;
  const dam = columns.dam[queen] as number;
  const first = recursion.start[node] as number;
  const terms = (recursion.start[node + 1] as number) - first;
  if (terms === 0) {
    const alike = sisters > 1 ? 0.25 + 0.5 / OPEN_MATING_DRONES : 1;
    fillOwn(f, node, alike + (1 - alike) / sisters, alike + (1 - alike) / sisters);
    return;
  }
  const pool = recursion.older[first + terms - 1] as number;
  const poolSelf = self[pool] as number;
  if (dam === NONE) {
    fillOwn(f, node, (1 - poolSelf) / sisters, poolSelf + (1 - poolSelf) / sisters);
    return;
  }
  const damNode = recursion.older[first] as number;
  if (family.dam !== damNode || family.pool !== pool) {
    family.dam = damNode;
    family.pool = pool;
    family.inbreeding = recursion.level[pool] === 0 ? 0 : between(f, damNode, pool);
  }
  const inbreeding = family.inbreeding;
  f.inbreeding[queen] = inbreeding;
  const own = (0.25 * (1 - (f.inbreeding[dam] as number)) + 0.5 - poolSelf) / sisters;
  const shared = 0.25 * (self[damNode] as number) + poolSelf + inbreeding;
  fillOwn(f, node, own, sisters > 1 ? shared + own : 1 + inbreeding);
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
