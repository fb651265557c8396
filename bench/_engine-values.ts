/** Rows of the bench: breeding values of one trait and of five. */
import { descentOf } from '#domain/worth/descent.ts';
import { makeEquations } from '#domain/worth/equations.ts';
import { solveEquations } from '#domain/worth/solve-equations.ts';
import { inverseOf } from '#numeric/dense/small-matrix.ts';
import { conjugateGradients } from '#numeric/mixed/conjugate-gradients.ts';
import { makeOperator, makeVector, multiply, rightHandSide } from '#numeric/mixed/operator.ts';
import { assembled, pieces } from './_assembled.ts';
import { median, ratioRow, times } from './_measure.ts';
import { eigenGradients, writeBinary } from './_references.ts';
import { add, firstOf, quick, say, thousands } from './_rows.ts';
import { type Mating, manyTraits, oneTrait, simulatePedigree, simulateRecords } from './_stock.ts';

export function values(
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

export function severalTraits(): void {
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
