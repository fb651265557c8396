/**
 * Simulated stocks for the benchmark: year cohorts of queens, dams one to three years old from an elite, drone mothers two to three years old,
 * true effects dropped through the pedigree, one record a queen in a yard-year of about fifteen colonies.
 */
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { layPedigree } from '#domain/pedigree/pedigree.ts';
import { FROM_POOL, FROM_QUEEN, NONE, type Stock, type StockColumns } from '#domain/pedigree/stock.ts';
import type { Model } from '#domain/worth/model.ts';
import type { Records } from '#domain/worth/records.ts';
import { choleskyInPlace } from '#numeric/dense/small-matrix.ts';
import { type RandomStream, randomStream } from '#numeric/random/random-stream.ts';

/** `shared`: one pool for three queens, drones of one mother. `own`: a pool for every queen. `batches`: homogenised batches of many mothers. */
export type Mating = 'shared' | 'own' | 'batches';

export type StockPlan = {
  queens: number;
  mating: Mating;
  cohorts?: number;
  seed?: number;
  /** Part of the cohort that becomes dams, and drone mothers. */
  dams?: number;
  droneMothers?: number;
  drones?: number;
  /** Mothers in a batch. */
  mothers?: number;
  /** Part of the queens whose pool is one draw of a single drone's batch (own variance 0). */
  withoutVariance?: number;
};

type Drawing = { sourceStart: number[]; kind: number[]; ref: number[]; share: number[]; drones: number[] };

const pushPool = (
  d: Drawing,
  sources: readonly { kind: number; ref: number; share: number; drones: number }[],
): number => {
  for (const source of sources) {
    d.kind.push(source.kind);
    d.ref.push(source.ref);
    d.share.push(source.share);
    d.drones.push(source.drones);
  }
  return d.sourceStart.push(d.kind.length) - 2;
};

/** Columns of a simulated stock. */
export function simulateColumns(plan: StockPlan): StockColumns {
  const {
    queens: n,
    mating,
    cohorts = 15,
    seed = 1,
    dams = 0.12,
    droneMothers = 0.06,
    drones = 10,
    mothers = 8,
    withoutVariance = 0,
  } = plan;
  const random = randomStream(seed);
  const per = Math.floor(n / cohorts);
  const cohortOf = (i: number) => Math.min(cohorts - 1, Math.floor(i / per));
  const dam = new Int32Array(n).fill(NONE);
  const carries = new Int32Array(n).fill(NONE);
  const drawing: Drawing = { sourceStart: [0], kind: [], ref: [], share: [], drones: [] };
  const elite = (cohort: number, part: number): number =>
    cohort * per + random.below(Math.max(1, Math.round(per * part)));
  /** A queen of the elite `from` to `to` years older; the elite of a cohort are its first queens. */
  const older = (cohort: number, from: number, to: number, part: number): number =>
    elite(Math.max(0, cohort - from - random.below(to - from + 1)), part);
  const poolOf = (cohort: number): number => {
    const mother = () => older(cohort, 2, 3, droneMothers);
    if (mating !== 'batches') return pushPool(drawing, [{ kind: FROM_QUEEN, ref: mother(), share: 1, drones }]);
    return pushPool(
      drawing,
      Array.from({ length: mothers }, () => ({
        kind: FROM_QUEEN,
        ref: mother(),
        share: 1 / mothers,
        drones: drones / 2,
      })),
    );
  };
  const size = mating === 'own' ? 1 : mating === 'shared' ? 3 : 60;
  let open: number[] = [];
  for (let i = 0; i < n; i++) {
    const cohort = cohortOf(i);
    if (i % per === 0)
      open = Array.from({ length: Math.max(1, Math.round(per / size)) }, () =>
        mating === 'own' ? NONE : poolOf(cohort),
      );
    if (cohort > 0) dam[i] = older(cohort, 1, 3, dams);
    carries[i] = mating === 'own' ? poolOf(cohort) : (open[random.below(open.length)] as number);
    if (random.uniform() < withoutVariance) {
      const drone = pushPool(drawing, [
        { kind: FROM_QUEEN, ref: older(cohort, 2, 3, droneMothers), share: 1, drones: 1 },
      ]);
      carries[i] = pushPool(drawing, [{ kind: FROM_POOL, ref: drone, share: 1, drones: 3 }]);
    }
  }
  const pools = drawing.sourceStart.length - 1;
  return {
    queens: n,
    dam,
    fromPool: new Int32Array(n).fill(NONE),
    carries,
    born: Int32Array.from({ length: n }, (_, i) => 20000601 + 10000 * cohortOf(i)),
    sisters: new Int32Array(n).fill(1),
    pools,
    sourceStart: Int32Array.from(drawing.sourceStart),
    sourceKind: Uint8Array.from(drawing.kind),
    sourceRef: Int32Array.from(drawing.ref),
    sourceShare: Float64Array.from(drawing.share),
    sourceDrones: Float64Array.from(drawing.drones),
    sourceAlike: new Float64Array(drawing.kind.length),
    oneOf: new Uint8Array(pools),
  };
}

export function simulateStock(plan: StockPlan): Stock {
  const columns = simulateColumns(plan);
  const name = (prefix: string) => ({
    of: (i: number) => `${prefix}${i}`,
    index: (id: string) => (id.startsWith(prefix) ? Number(id.slice(prefix.length)) : NONE),
  });
  const queens = name('Q');
  const pools = name('P');
  return {
    columns,
    names: {
      queenId: queens.of,
      queenName: queens.of,
      queenIndex: queens.index,
      poolId: pools.of,
      poolName: pools.of,
      poolIndex: pools.index,
    },
    assumptions: [],
  };
}

export function simulatePedigree(plan: StockPlan): Pedigree {
  const laid = layPedigree(simulateStock(plan));
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems.slice(0, 3)));
  return laid.pedigree;
}

/** Draws with covariance L L'. */
function drawInto(
  random: RandomStream,
  l: Float64Array,
  size: number,
  scale: number,
  out: Float64Array,
  at: number,
): void {
  const z = Float64Array.from({ length: size }, () => random.normal());
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let k = 0; k <= i; k++) sum += (l[i * size + k] as number) * (z[k] as number);
    out[at + i] = (out[at + i] as number) + scale * sum;
  }
}

/** One record a queen under the model, yard-years of about fifteen colonies within a cohort. */
export function simulateRecords(pedigree: Pedigree, model: Model, { seed = 2, perYard = 15, share = 1 } = {}): Records {
  const random = randomStream(seed);
  const { recursion, stock } = pedigree;
  const traits = model.traits.length;
  const q = 2 * traits;
  const lG = model.G.slice();
  const lR = model.R.slice();
  choleskyInPlace(lG, q);
  choleskyInPlace(lR, traits);
  const u = new Float64Array(recursion.size * q);
  for (let i = 0; i < recursion.size; i++) {
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++) {
      for (let e = 0; e < q; e++)
        u[i * q + e] =
          (u[i * q + e] as number) +
          (recursion.weight[k] as number) * (u[(recursion.older[k] as number) * q + e] as number);
    }
    drawInto(random, lG, q, Math.sqrt(recursion.own[i] as number), u, i * q);
  }
  const queen: number[] = [];
  for (let i = 0; i < stock.columns.queens; i++) if (share === 1 || random.uniform() < share) queen.push(i);
  const values = new Float64Array(queen.length * traits);
  const level = new Int32Array(queen.length);
  const names: string[] = [];
  const years = new Map<number, { first: number; yards: number }>();
  const perYear = new Map<number, number>();
  const yearOf = (i: number) => Math.floor((stock.columns.born[i] as number) / 10000);
  for (const i of queen) perYear.set(yearOf(i), (perYear.get(yearOf(i)) ?? 0) + 1);
  for (const [year, count] of perYear) {
    const yards = Math.max(1, Math.round(count / perYard));
    years.set(year, { first: names.length, yards });
    for (let k = 0; k < yards; k++) names.push(`yard ${k}:${year}`);
  }
  const means = Float64Array.from({ length: names.length * traits }, () => 20 + 3 * random.normal());
  for (const [r, i] of queen.entries()) {
    const year = years.get(yearOf(i)) ?? { first: 0, yards: 1 };
    level[r] = year.first + random.below(year.yards);
    drawInto(random, lR, traits, 1, values, r * traits);
    for (let t = 0; t < traits; t++) {
      const node = pedigree.queenNode[i] as number;
      const pool = pedigree.carriedNode[i] as number;
      const genetic =
        0.5 * (u[node * q + 2 * t] as number) + (u[node * q + 2 * t + 1] as number) + (u[pool * q + 2 * t] as number);
      values[r * traits + t] =
        (values[r * traits + t] as number) + genetic + (means[(level[r] as number) * traits + t] as number);
    }
  }
  return { count: queen.length, queen: Int32Array.from(queen), values, factors: [{ level, names }] };
}

/** The one-trait model of the benchmark: G = [1, −.3; −.3, .8], residual 2. */
export const oneTrait: Model = {
  traits: ['yield'],
  fixed: [['yard', 'year']],
  G: Float64Array.of(1, -0.3, -0.3, 0.8),
  R: Float64Array.of(2),
};

/** Several traits, each as the one of {@link oneTrait}, correlated .3 between traits. */
export function manyTraits(traits: number): Model {
  const q = 2 * traits;
  const G = new Float64Array(q * q);
  const R = new Float64Array(traits * traits);
  for (let s = 0; s < traits; s++) {
    for (let t = 0; t < traits; t++) {
      const r = s === t ? 1 : 0.3;
      R[s * traits + t] = 2 * r;
      for (const [a, b] of [
        [0, 0],
        [0, 1],
        [1, 0],
        [1, 1],
      ] as const) {
        G[(2 * s + a) * q + 2 * t + b] = r * (oneTrait.G[a * 2 + b] as number);
      }
    }
  }
  return { traits: Array.from({ length: traits }, (_, t) => `trait ${t}`), fixed: [['yard', 'year']], G, R };
}
