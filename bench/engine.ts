/**
 * The engine: kinship, breeding values, reliabilities, variances, as ratios to general solvers on the same stocks in the same run.
 * Run: npm run bench -- engine [--references] [--write] [--quick]. `--write` puts the table into docs/performance.md.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { readStock } from '#domain/pedigree/files/read-pedigree.ts';
import { layPedigree } from '#domain/pedigree/pedigree.ts';
import { breedingValues } from '#domain/worth/breeding-values.ts';
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { askedSets, eachPairError, exactOver } from '#domain/worth/error-variances.ts';
import { nearOver } from '#domain/worth/near-inverse.ts';
import { solveEquations } from '#domain/worth/solve-equations.ts';
import { estimateVariances } from '#domain/worth/variances/variances.ts';
import { inverseOf } from '#numeric/dense/small-matrix.ts';
import { conjugateGradients } from '#numeric/mixed/conjugate-gradients.ts';
import { correctedInverse } from '#numeric/mixed/corrected-inverse.ts';
import { assemble, directPattern, factorDirect, invertDirect } from '#numeric/mixed/direct.ts';
import { makeOperator, makeVector, multiply, rightHandSide } from '#numeric/mixed/operator.ts';
import { inverseColumns } from '#numeric/recursion/inverse-columns.ts';
import { positivePart } from '#numeric/recursion/positive-part.ts';
import { assembled, lowerTriangle, pieces } from './_assembled.ts';
import { machine, median, type Row, ratioRow, table, times } from './_measure.ts';
import { cholmod, eigenGradients, lme4, scipyColumns, writeBinary, writeText } from './_references.ts';
import { type Mating, manyTraits, oneTrait, simulatePedigree, simulateRecords, simulateStock } from './_stock.ts';
import { queensTable } from './_tables.ts';

const quick = process.argv.includes('--quick');
const big = quick ? 100_000 : 1_000_000;
const rows: Row[] = [];
const notes: string[] = [];
const say = (text: string) => {
  notes.push(text);
  console.log(text);
};
const add = (row: Row) => {
  rows.push(row);
  console.log(
    `${row.measure}: ${row.ours}; ${row.reference}; ratio ${row.ratio?.toPrecision(3) ?? '–'} (must ${row.must})`,
  );
};
const thousands = (n: number) => n.toLocaleString('en');
const firstOf = (lines: number[][] | null): number | null =>
  lines === null ? null : median(lines.map((line) => line[0] ?? Number.NaN));

function kinship(): void {
  const stock = simulateStock({ queens: big, mating: 'shared' });
  let last = inverseColumns(
    positivePart({
      size: 0,
      start: Int32Array.of(0),
      older: new Int32Array(0),
      weight: new Float64Array(0),
      own: new Float64Array(0),
      level: new Int32Array(0),
    }).recursion,
  );
  const lay = () => layPedigree(stock).pedigree ?? fail();
  const laying = times(3, lay);
  const pedigree = lay();
  const part = positivePart(pedigree.recursion);
  const inverting = times(3, () => {
    last = inverseColumns(part.recursion);
  });
  const { recursion } = part;
  const [row, column, value]: [number[], number[], number[]] = [[], [], []];
  const triplets = { row: new Int32Array(0), column: new Int32Array(0), value: new Float64Array(0) };
  let count = 0;
  for (let i = 0; i < recursion.size; i++)
    count += (1 + (recursion.start[i + 1] as number) - (recursion.start[i] as number)) ** 2;
  triplets.row = new Int32Array(count);
  triplets.column = new Int32Array(count);
  triplets.value = new Float64Array(count);
  let at = 0;
  for (let i = 0; i < recursion.size; i++) {
    row.length = 0;
    value.length = 0;
    column.length = 0;
    const terms: [number, number][] = [[i, 1]];
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      terms.push([recursion.older[k] as number, -(recursion.weight[k] as number)]);
    for (const [a, x] of terms) {
      for (const [b, y] of terms) {
        triplets.row[at] = a;
        triplets.column[at] = b;
        triplets.value[at++] = (x * y) / (recursion.own[i] as number);
      }
    }
  }
  const file = writeBinary('triplets.bin', [
    Int32Array.of(recursion.size, count),
    triplets.row,
    triplets.column,
    triplets.value,
  ]);
  say(
    `kinship, ${thousands(big)} queens: ${thousands(pedigree.recursion.size)} nodes; checks, order and inbreeding ${median(laying).toFixed(0)} ms, inverse ${median(inverting).toFixed(0)} ms, ${thousands(last.row.length)} entries`,
  );
  add(
    ratioRow(`inbreeding and inverse, ${thousands(big)} queens`, {
      ours: median(laying) + median(inverting),
      reference: firstOf(scipyColumns(file, 3)),
      referenceName: 'scipy, the same triplets to columns',
      must: 1.5,
      aim: 0.5,
    }),
  );
}

function fail(): never {
  throw new Error('the simulated stock does not stand');
}

function files(): void {
  const queens = quick ? 130_000 : 1_300_000;
  const pedigree = simulatePedigree({ queens, mating: 'own' });
  const text = queensTable(pedigree).queens;
  const bytes = new TextEncoder().encode(text);
  const ours = times(3, () => readStock({ name: 'QUEENS.csv', bytes }));
  const naive = times(3, () => {
    const index = new Map<string, number>();
    const lines = new TextDecoder().decode(bytes).split('\n');
    const cells = lines.slice(1, -1).map((line) => line.split(','));
    for (const [i, cell] of cells.entries()) index.set(cell[0] ?? '', i);
    const dam = new Int32Array(cells.length);
    const mother = new Int32Array(cells.length);
    for (const [i, cell] of cells.entries()) {
      dam[i] = index.get(cell[1] ?? '') ?? -1;
      mother[i] = index.get(cell[3] ?? '') ?? -1;
    }
  });
  add(
    ratioRow(`${thousands(queens)} rows (${(bytes.length / 1e6).toFixed(0)} MB) to integer pedigree`, {
      ours: median(ours),
      reference: median(naive),
      referenceName: 'split and Map',
      must: 0.5,
      aim: 0.15,
    }),
  );
}

function values(
  queens: number,
  mating: Mating,
  goal: { must: number; aim: number } | null,
  withoutVariance = 0,
): { ours: number; jacobi: number | null } {
  const pedigree = simulatePedigree({ queens, mating, withoutVariance });
  const records = simulateRecords(pedigree, oneTrait);
  const descent = descentOf(pedigree);
  const making = performance.now();
  const equations = makeEquations(descent, records, oneTrait);
  const made = performance.now() - making;
  let iterations = 0;
  const ours = times(queens > 200_000 ? 3 : 7, () => {
    iterations = solveEquations(equations).iterations;
  });
  const label = `${thousands(queens)} queens, ${mating}${withoutVariance > 0 ? `, ${100 * withoutVariance} % without own variance` : ''}`;
  const full = makeEquations(descent, records, oneTrait, { absorb: false });
  const whole = assembled(full);
  const reference = eigenGradients(writeBinary('equations.bin', pieces(whole)), queens > 200_000 ? 1 : 3);
  const jacobi = reference?.[0]?.[1] ?? null;
  say(
    `breeding values, ${label}: ${thousands(equations.system.recursion.size)} of ${thousands(full.system.recursion.size)} nodes kept, set up in ${made.toFixed(0)} ms, ${iterations} iterations (general solver ${jacobi ?? '–'})`,
  );
  if (goal !== null) {
    add(
      ratioRow(`breeding values, ${label}`, {
        ours: median(ours),
        reference: firstOf(reference),
        referenceName: 'Eigen conjugate gradients, Jacobi',
        ...goal,
      }),
    );
  }
  return { ours: iterations, jacobi };
}

function severalTraits(): void {
  const queens = quick ? 10_000 : 100_000;
  const model = manyTraits(5);
  const pedigree = simulatePedigree({ queens, mating: 'shared' });
  const records = simulateRecords(pedigree, model);
  const equations = makeEquations(descentOf(pedigree), records, model);
  const ours = times(1, () => solveEquations(equations));
  const full = makeEquations(descentOf(pedigree), records, model, { absorb: false });
  const operator = makeOperator(full.system);
  const q = full.system.effects;
  // block Jacobi: for each node the inverse of its own block, here from products with unit vectors of one colour at a time
  const blocks = ownBlocks(full);
  const b = makeVector(full.system);
  rightHandSide(operator, full.system.observations.y, b);
  let iterations = 0;
  const naive = times(1, () => {
    const x = makeVector(full.system);
    const system = {
      multiply: (v: Float64Array, out: Float64Array) => multiply(operator, v, out),
      precondition: (r: Float64Array, z: Float64Array) => {
        for (let i = 0; i < full.system.recursion.size; i++) {
          for (let e = 0; e < q; e++) {
            let sum = 0;
            for (let f = 0; f < q; f++) sum += (blocks[(i * q + e) * q + f] as number) * (r[i * q + f] as number);
            z[i * q + e] = sum;
          }
        }
      },
    };
    iterations = conjugateGradients(system, b, x, { tolerance: 1e-10, mostIterations: 5000 }).iterations;
  });
  say(`five traits, ${thousands(queens)} queens: block Jacobi on the full equations ${iterations} iterations`);
  add(
    ratioRow(`5 traits, ${thousands(queens)} queens`, {
      ours: median(ours),
      reference: median(naive),
      referenceName: 'own plain block Jacobi',
      must: 0.4,
      aim: 0.08,
    }),
  );
}

/** Inverse of the diagonal block of every node of the full equations. */
function ownBlocks({ system }: ReturnType<typeof makeEquations>): Float64Array {
  const { recursion, effects: q, traits: t, inverseG, observations, features } = system;
  const out = new Float64Array(recursion.size * q * q);
  const addG = (i: number, scale: number) => {
    for (let k = 0; k < q * q; k++)
      out[i * q * q + k] = (out[i * q * q + k] as number) + scale * (inverseG[k] as number);
  };
  for (let i = 0; i < recursion.size; i++) {
    const own = 1 / (recursion.own[i] as number);
    addG(i, own);
    for (let k = recursion.start[i] as number; k < (recursion.start[i + 1] as number); k++)
      addG(recursion.older[k] as number, own * (recursion.weight[k] as number) ** 2);
  }
  for (let r = 0; r < observations.count; r++) {
    for (const f of [observations.left[r] as number, observations.right[r] as number]) {
      for (let k = f < 0 ? 0 : (features.start[f] as number); f >= 0 && k < (features.start[f + 1] as number); k++) {
        const i = features.node[k] as number;
        const load = [features.first[k] as number, features.second[k] as number];
        for (let s = 0; s < t; s++) {
          for (let u = 0; u < t; u++) {
            const w = observations.weight[(r * t + s) * t + u] as number;
            for (let a = 0; a < 2; a++) {
              for (let c = 0; c < 2; c++) {
                const at = (i * q + 2 * s + a) * q + 2 * u + c;
                out[at] = (out[at] as number) + w * (load[a] as number) * (load[c] as number);
              }
            }
          }
        }
      }
    }
  }
  for (let i = 0; i < recursion.size; i++) {
    const inverse = inverseOf(out.slice(i * q * q, (i + 1) * q * q), q);
    if (inverse !== null) out.set(inverse, i * q * q);
  }
  return out;
}

function factoring(queens: number, goal: { must: number; aim: number }): void {
  const pedigree = simulatePedigree({ queens, mating: 'shared' });
  const equations = makeEquations(descentOf(pedigree), simulateRecords(pedigree, oneTrait), oneTrait);
  const repeats = queens > 20_000 ? 1 : 5;
  let gigaflops = 0;
  const ours = times(repeats, () => {
    const pattern = directPattern(equations.system);
    assemble(equations.system, pattern);
    factorDirect(pattern);
    gigaflops = pattern.matrix.supernodes.flops / 1e9;
  });
  const reference = cholmod(writeBinary('factor.bin', pieces(lowerTriangle(assembled(equations)))), repeats);
  const sum = reference === null ? null : median(reference.map((line) => (line[0] ?? 0) + (line[1] ?? 0)));
  say(
    `Cholesky, ${thousands(queens)} queens: ${thousands(2 * equations.system.recursion.size)} equations of parents, ${gigaflops.toFixed(1)} GFlop`,
  );
  add(
    ratioRow(`sparse Cholesky, ${thousands(queens)} queens`, {
      ours: median(ours),
      reference: sum,
      referenceName: 'CHOLMOD supernodal, one BLAS thread',
      ...goal,
    }),
  );
}

function reliabilities(queens: number, mating: Mating): void {
  const pedigree = simulatePedigree({ queens, mating });
  const records = simulateRecords(pedigree, oneTrait);
  const equations = makeEquations(descentOf(pedigree), records, oneTrait);
  const time = (run: () => void): number => median(times(1, run));
  const exactTime = time(() => {
    const pattern = directPattern(equations.system, { asked: askedSets(equations) });
    assemble(equations.system, pattern);
    eachPairError(equations, exactOver(equations, invertDirect(factorDirect(pattern))), () => undefined);
  });
  correctedInverse(equations.system);
  const nearTime = time(() =>
    eachPairError(equations, nearOver(equations, correctedInverse(equations.system)), () => undefined),
  );
  const of = (kind: 'exact' | 'approximate') =>
    breedingValues(pedigree, records, oneTrait, { reliability: kind }).queens.map((one) => one.reliability ?? 0);
  const [exact, near] = [of('exact'), of('approximate')];
  const mean = (x: readonly number[]) => x.reduce((sum, v) => sum + v, 0) / x.length;
  const [ma, mb] = [mean(exact), mean(near)];
  const cross = (x: readonly number[], mx: number, y: readonly number[], my: number) =>
    x.reduce((sum, v, i) => sum + (v - mx) * ((y[i] ?? 0) - my), 0);
  const correlation = cross(exact, ma, near, mb) / Math.sqrt(cross(exact, ma, exact, ma) * cross(near, mb, near, mb));
  const rmse = Math.sqrt(mean(exact.map((v, i) => (v - (near[i] ?? 0)) ** 2)));
  const label = `${thousands(queens)} queens, ${mating}`;
  const quality = (measure: string, ours: number, must: number, aim: number, larger: boolean): Row => ({
    measure: `approximate reliabilities, ${label}: ${measure}`,
    ours: ours.toPrecision(5),
    reference: 'exact',
    ratio: null,
    must: `${larger ? '≥' : '≤'} ${must}`,
    aim: `${larger ? '≥' : '≤'} ${aim}`,
    held: larger ? ours >= must : ours <= must,
    aimed: larger ? ours >= aim : ours <= aim,
  });
  add(quality('correlation', correlation, 0.995, 0.9995, true));
  add(quality('root mean square error', rmse, 0.03, 0.005, false));
  add(
    ratioRow(`approximate reliabilities, ${label}: time`, {
      ours: nearTime,
      reference: exactTime,
      referenceName: 'exact',
      must: 0.02,
      aim: 0.01,
    }),
  );
}

function variances(queens: number, goal: { must: number; aim: number }): void {
  const pedigree = simulatePedigree({ queens, mating: 'shared' });
  const records = simulateRecords(pedigree, oneTrait);
  const start = { ...oneTrait, G: Float64Array.of(0.6, 0, 0, 0.6), R: Float64Array.of(3) };
  let found = '';
  const ours = times(1, () => {
    const { G, R, logLikelihood } = estimateVariances(pedigree, records, start);
    found = `${G.flat()
      .map((v) => v.toFixed(3))
      .join(' ')}, residual ${R[0]?.[0]?.toFixed(3)}, log-likelihood ${logLikelihood?.toFixed(3) ?? 'not worked out'}`;
  });
  const { columns } = pedigree.stock;
  const lines = Array.from(records.queen, (queen, r) =>
    [records.factors[0]?.level[r], columns.dam[queen], columns.carries[queen], records.values[r]].join(','),
  );
  say(`variances, ${thousands(queens)} records: ${found}`);
  add(
    ratioRow(`variances, ${thousands(queens)} records`, {
      ours: median(ours),
      reference: lme4(writeText('records.csv', `class,dam,mate,y\n${lines.join('\n')}\n`)),
      referenceName: 'lme4, crossed model without kinship',
      ...goal,
    }),
  );
}

/** The same work on 1, 2 and 4 threads: every thread takes whole right-hand sides, so the bits cannot differ; checked all the same. */
async function threads(): Promise<void> {
  const answers: string[] = [];
  for (const count of [1, 2, 4]) {
    const parts = await Promise.all(Array.from({ length: count }, (_, k) => partOf(k, count)));
    answers.push(parts.flat().sort().join());
  }
  const equal = answers.every((answer) => answer === answers[0]);
  rows.push({
    measure: 'answers on 1, 2 and 4 threads',
    ours: equal ? 'equal bit for bit' : 'DIFFERENT',
    reference: 'one thread',
    ratio: null,
    must: 'equal',
    aim: 'equal',
    held: equal,
    aimed: equal,
  });
  console.log(`threads: ${equal ? 'equal' : 'different'}`);
}

const partOf = (k: number, count: number): Promise<string[]> =>
  new Promise((resolve, reject) => {
    const file = JSON.stringify(new URL('./_thread.ts', import.meta.url).href);
    const start = `import('tsx/esm/api').then(({ register }) => { register(); return import(${file}); })`;
    const worker = new Worker(start, { eval: true, workerData: { k, count } });
    worker.once('message', resolve);
    worker.once('error', reject);
  });

kinship();
files();
values(quick ? 10_000 : 100_000, 'shared', { must: 0.12, aim: 0.03 });
values(quick ? 10_000 : 100_000, 'batches', { must: 0.12, aim: 0.03 });
values(quick ? 10_000 : 100_000, 'own', { must: 0.12, aim: 0.03 }, 0.05);
const small = values(10_000, 'shared', null);
const large = values(big, 'shared', { must: 0.09, aim: 0.02 });
add(
  ratioRow(`iterations at ${thousands(big)} queens (${small.ours} at 10,000)`, {
    ours: large.ours,
    reference: large.jacobi,
    referenceName: 'Jacobi',
    unit: 'iterations',
    must: 0.12,
    aim: 0.05,
  }),
);
severalTraits();
factoring(quick ? 3000 : 10_000, { must: 2, aim: 1 });
if (!quick) factoring(30_000, { must: 3.5, aim: 1.5 });
reliabilities(quick ? 3000 : 30_000, 'shared');
reliabilities(quick ? 3000 : 30_000, 'batches');
variances(quick ? 3000 : 10_000, { must: 3, aim: 0.8 });
if (!quick) variances(30_000, { must: 1, aim: 0.15 });
await threads();

console.log(`\n${machine()}\n${table(rows)}`);
const broken = rows.filter((row) => row.held === false);
console.log(broken.length === 0 ? 'every must that has a reference here holds' : `${broken.length} musts not held`);
if (process.argv.includes('--write')) {
  const path = 'docs/performance.md';
  const text = readFileSync(path, 'utf8');
  const [before = '', , after = ''] = text.split(/<!-- (?:table|end) -->/);
  const list = notes.map((note) => `- ${note}`).join('\n');
  writeFileSync(path, `${before}<!-- table -->\n${machine()}\n\n${table(rows)}\n\n${list}\n<!-- end -->${after}`);
}
