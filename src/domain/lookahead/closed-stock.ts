/**
 * A closed stock looked at ahead: cohorts of breeder queens, each raised from the cohort before and inseminated with its drones, with sex alleles dropped
 * and kinship kept exactly. Cohort 0 are unrelated founders inseminated with drones of founders; cohort t+1 are viable daughters of cohort t,
 * inseminated with drones of cohort t (taking drones from the inseminated queens' own cohort would halve the effective size).
 */
import { type RandomStream, randomStream } from '#numeric/random/random-stream.ts';

/**
 * - `random`: dam and each drone's mother drawn at random;
 * - `one-daughter`: each queen leaves one daughter, drones' mothers at random;
 * - `rotation`: each queen leaves one daughter and serves once as the single drone colony;
 * - `pooled`: all semen of a cohort mixed, each queen leaves one daughter.
 */
export type Scheme = 'random' | 'one-daughter' | 'rotation' | 'pooled';
export const SCHEMES: readonly Scheme[] = ['random', 'one-daughter', 'rotation', 'pooled'];

export type ClosedStock = {
  /** Breeder queens in a cohort, 2 or more. */
  breeders: number;
  /** Equally common sex alleles among the founders, 2 or more. */
  alleles: number;
  /** Drones in one insemination, 1 or more. */
  drones: number;
  scheme: Scheme;
  /** Cohorts after the founders. */
  cohorts: number;
};

/** One cohort in one replicate. */
export type CohortState = {
  /** Mean viability of the brood of its queens, 0.5-1. */
  meanViability: number;
  /** Part of its colonies whose viability lies below the limit. */
  belowLimit: number;
  /** Different sex alleles among its queens. */
  alleles: number;
  /** Mean coancestry of two different queens. */
  coancestry: number;
};

type Queens = { first: Uint16Array; second: Uint16Array };

/** Drones of a cohort's inseminations: `perQueen` a queen one after another, or (pooled) one list for all queens: both alleles of every mother. */
type Semen = { mother: Int32Array; allele: Uint16Array; perQueen: number; isShared: boolean };

/** Relationships, `n × n` row after row: queens with queens, queens with pools, pools with pools. */
type Kinship = { queens: Float64Array; mixed: Float64Array; pools: Float64Array };

/** Runs one replicate; `limit` is the viability below which a colony counts as poor. The same for the same seed and replicate. */
export function runReplicate(
  plan: ClosedStock,
  given: { seed: number; replicate: number; limit: number },
): CohortState[] {
  const random = randomStream(given.seed, given.replicate);
  const n = plan.breeders;
  let queens = founders(plan, random);
  let semen = inseminate(plan, queens, { random, isFounding: true });
  let kinship = foundersKinship(n, semen);
  const out = [stateOf(queens, semen, kinship.queens, given.limit)];
  for (let t = 1; t <= plan.cohorts; t++) {
    const dams = Int32Array.from({ length: n }, (_, i) => (plan.scheme === 'random' ? random.below(n) : i));
    const born = daughters(queens, semen, dams, random);
    const drawn = inseminate(plan, queens, { random, isFounding: false });
    kinship = nextKinship(kinship, dams, drawn);
    queens = born;
    semen = drawn;
    out.push(stateOf(queens, semen, kinship.queens, given.limit));
  }
  return out;
}

function founders({ breeders, alleles }: ClosedStock, random: RandomStream): Queens {
  const queens = { first: new Uint16Array(breeders), second: new Uint16Array(breeders) };
  for (let i = 0; i < breeders; i++) {
    const first = random.below(alleles);
    const other = random.below(alleles - 1);
    queens.first[i] = first;
    queens.second[i] = other >= first ? other + 1 : other;
  }
  return queens;
}

/** Drones for a cohort from `mothers`: the cohort before, or, for the founders, themselves. */
function inseminate(plan: ClosedStock, mothers: Queens, given: { random: RandomStream; isFounding: boolean }): Semen {
  const { breeders: n, scheme, drones } = plan;
  const { random } = given;
  const alleleOf = (m: number, second: boolean) => (second ? mothers.second[m] : mothers.first[m]) as number;
  if (scheme === 'pooled') {
    const mother = Int32Array.from({ length: 2 * n }, (_, k) => k >> 1);
    return {
      mother,
      allele: Uint16Array.from(mother, (m, k) => alleleOf(m, k % 2 === 1)),
      perQueen: 2 * n,
      isShared: true,
    };
  }
  const shift = given.isFounding ? 1 : 1 + random.below(Math.max(1, n - 1));
  const mother = new Int32Array(n * drones);
  const allele = new Uint16Array(n * drones);
  for (let k = 0; k < mother.length; k++) {
    const m = scheme === 'rotation' ? (Math.floor(k / drones) + shift) % n : random.below(n);
    mother[k] = m;
    allele[k] = alleleOf(m, (random.bits() & 1) === 1);
  }
  return { mother, allele, perQueen: drones, isShared: false };
}

/** Where the drones of a queen begin in the lists. */
const firstDrone = ({ perQueen, isShared }: Semen, queen: number): number => (isShared ? 0 : queen * perQueen);

/** Viable daughters: egg and sperm drawn again until their alleles differ. */
function daughters(queens: Queens, semen: Semen, dams: Int32Array, random: RandomStream): Queens {
  const born = { first: new Uint16Array(dams.length), second: new Uint16Array(dams.length) };
  for (const [i, dam] of dams.entries()) {
    const from = firstDrone(semen, dam);
    for (;;) {
      const egg = (random.bits() & 1 ? queens.first[dam] : queens.second[dam]) as number;
      const sperm = semen.allele[from + random.below(semen.perQueen)] as number;
      if (egg === sperm) continue;
      born.first[i] = egg;
      born.second[i] = sperm;
      break;
    }
  }
  return born;
}

/** Pools of a cohort against rows of a matrix over their mothers: `out[r][j] = Σ_drones ½ row[r][mother] / drones`. */
function throughPools(rows: Float64Array, n: number, semen: Semen): Float64Array {
  const out = new Float64Array(n * n);
  const share = 0.5 / semen.perQueen;
  for (let r = 0; r < n; r++) {
    for (let j = 0; j < n; j++) {
      const from = firstDrone(semen, j);
      let sum = 0;
      for (let k = from; k < from + semen.perQueen; k++) sum += rows[r * n + (semen.mother[k] as number)] as number;
      out[r * n + j] = share * sum;
    }
  }
  return out;
}

/** Relationship of pools with one another, mothers' relationships given; drones of one's own add ¼(1 − F) each, over the square of their number. */
function poolKinship(mothers: Float64Array, n: number, semen: Semen): Float64Array {
  const half = throughPools(mothers, n, semen);
  const turned = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) turned[j * n + i] = half[i * n + j] as number;
  const pools = throughPools(turned, n, semen);
  if (semen.isShared) return pools; // very many drones
  for (let j = 0; j < n; j++) {
    for (let k = firstDrone(semen, j); k < firstDrone(semen, j) + semen.perQueen; k++) {
      const m = semen.mother[k] as number;
      pools[j * n + j] =
        (pools[j * n + j] as number) + (0.25 * (2 - (mothers[m * n + m] as number))) / semen.perQueen ** 2;
    }
  }
  return pools;
}

function foundersKinship(n: number, semen: Semen): Kinship {
  const queens = new Float64Array(n * n);
  for (let i = 0; i < n; i++) queens[i * n + i] = 1;
  return { queens, mixed: throughPools(queens, n, semen), pools: poolKinship(queens, n, semen) };
}

/** Kinship of the next cohort: daughters of `dams` and their pools, whose new pools hold drones of this cohort. */
function nextKinship({ queens, mixed, pools }: Kinship, dams: Int32Array, semen: Semen): Kinship {
  const n = dams.length;
  const born = new Float64Array(n * n);
  /** Each daughter with each queen of this cohort. */
  const withMothers = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const d = dams[i] as number;
    for (let j = 0; j < n; j++) {
      const e = dams[j] as number;
      born[i * n + j] =
        0.25 * (queens[d * n + e] as number) +
        0.5 * ((mixed[d * n + e] as number) + (mixed[e * n + d] as number)) +
        (pools[d * n + e] as number);
      withMothers[i * n + j] = 0.5 * (queens[d * n + j] as number) + (mixed[j * n + d] as number);
    }
    born[i * n + i] = 1 + (mixed[d * n + d] as number);
  }
  return { queens: born, mixed: throughPools(withMothers, n, semen), pools: poolKinship(queens, n, semen) };
}

function stateOf(queens: Queens, semen: Semen, kinship: Float64Array, limit: number): CohortState {
  const n = queens.first.length;
  let viability = 0;
  let below = 0;
  const alleles = new Set<number>();
  let relationship = 0;
  for (let i = 0; i < n; i++) {
    const [a, b] = [queens.first[i] as number, queens.second[i] as number];
    alleles.add(a).add(b);
    const from = firstDrone(semen, i);
    let like = 0;
    for (let k = from; k < from + semen.perQueen; k++) if (semen.allele[k] === a || semen.allele[k] === b) like++;
    const v = 1 - like / (2 * semen.perQueen);
    viability += v / n;
    if (v < limit - 1e-9) below++;
    for (let j = 0; j < i; j++) relationship += kinship[i * n + j] as number;
  }
  return {
    meanViability: viability,
    belowLimit: below / n,
    alleles: alleles.size,
    coancestry: relationship / (n * (n - 1)),
  };
}
