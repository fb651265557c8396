/** Rows of the bench: factoring the equations, and reliabilities from the factor. */
import { workersRelationships } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { breedingValues } from '#domain/worth/breeding-values.ts';
import { descentOf } from '#domain/worth/descent.ts';
import { type Equations, makeEquations } from '#domain/worth/equations.ts';
import { eachPairError } from '#domain/worth/error-variances.ts';
import { nearOver } from '#domain/worth/near-inverse.ts';
import { correctedInverse } from '#numeric/mixed/corrected-inverse.ts';
import { assemble, directPattern, factorDirect } from '#numeric/mixed/direct.ts';
import { assembled, lowerTriangle, pieces } from './_assembled.ts';
import { median, type Row, ratioRow, times } from './_measure.ts';
import { cholmod, writeBinary } from './_references.ts';
import { add, say, thousands } from './_rows.ts';
import { type Mating, oneTrait, simulatePedigree, simulateRecords } from './_stock.ts';

export function factoring(queens: number, goal: { must: number; aim: number }): void {
  const pedigree = simulatePedigree({ queens, mating: 'shared' });
  const equations = makeEquations(descentOf(pedigree), simulateRecords(pedigree, oneTrait), oneTrait);
  const repeats = queens > 20_000 ? 1 : 9;
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

/** Approximate reliabilities of the worth as mother of queens, from the corrected factor. */
function nearReliabilities(pedigree: Pedigree, equations: Equations): number[] {
  const out: number[] = [];
  const alike = workersRelationships(pedigree);
  const [worker = 0, both = 0, , queenEffect = 0] = oneTrait.G;
  eachPairError(equations, nearOver(equations, correctedInverse(equations.system)), (queen, error) => {
    let sum = 0;
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) sum += (i < 2 ? 0.5 : 1) * (j < 2 ? 0.5 : 1) * (error[4 * i + j] as number);
    const variance = (alike[queen] as number) * (worker + 2 * both + queenEffect);
    out[queen] = Math.max(0, 1 - sum / variance);
  });
  return out;
}

export function reliabilities(queens: number, mating: Mating): void {
  const pedigree = simulatePedigree({ queens, mating });
  const records = simulateRecords(pedigree, oneTrait);
  const equations = makeEquations(descentOf(pedigree), records, oneTrait);
  const time = (run: () => void): number => median(times(1, run));
  const valuesWith = (kind: 'exact' | 'none') => breedingValues(pedigree, records, oneTrait, { reliability: kind });
  valuesWith('none');
  const without = time(() => valuesWith('none'));
  let exact: number[] = [];
  const exactTime =
    time(() => {
      exact = valuesWith('exact').queens.map((one) => one.reliability ?? 0);
    }) - without;
  const near = nearReliabilities(pedigree, equations);
  const nearTime = median(times(3, () => nearReliabilities(pedigree, equations)));
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
