/** The restricted likelihood of one trait by dense algebra, and its maximum by a simplex search (Nelder and Mead 1965): slow, derivative-free. */
import { covarianceOfNodes } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Records } from '#domain/worth/records.ts';
import { choleskyInPlace, inverseOf, logDeterminant } from '#numeric/dense/small-matrix.ts';

/** ℓ as a function of worker variance, covariance, queen variance, residual variance; −∞ outside. */
export function denseLikelihood(pedigree: Pedigree, records: Records): (theta: readonly number[]) => number {
  const n = records.count;
  const loads = Array.from(records.queen, (queen) => {
    const [node, pool] = [pedigree.queenNode[queen] ?? -1, pedigree.carriedNode[queen] ?? -1];
    return {
      worker: [
        [node, 0.5],
        [pool, 1],
      ] as [number, number][],
      queen: [[node, 1]] as [number, number][],
    };
  });
  const sum = (a: [number, number][], b: [number, number][]) => {
    let total = 0;
    for (const [i, x] of a) for (const [j, y] of b) total += x * y * covarianceOfNodes(pedigree, i, j);
    return total;
  };
  const K = [0, 1, 2].map(() => new Float64Array(n * n));
  for (const [i, a] of loads.entries()) {
    for (const [j, b] of loads.entries()) {
      (K[0] as Float64Array)[i * n + j] = sum(a.worker, b.worker);
      (K[1] as Float64Array)[i * n + j] = sum(a.worker, b.queen) + sum(a.queen, b.worker);
      (K[2] as Float64Array)[i * n + j] = sum(a.queen, b.queen);
    }
  }
  const levels = records.factors[0]?.names.length ?? 0;
  const X = Array.from({ length: levels }, (_, l) =>
    Float64Array.from(records.factors[0]?.level ?? [], (level) => (level === l ? 1 : 0)),
  );
  return ([worker = 0, mixed = 0, queen = 0, residual = 0]) => {
    if (!(worker > 0 && queen > 0 && residual > 0 && worker * queen - mixed * mixed > 0))
      return Number.NEGATIVE_INFINITY;
    const V = new Float64Array(n * n);
    for (let k = 0; k < n * n; k++)
      V[k] = worker * (K[0]?.[k] ?? 0) + mixed * (K[1]?.[k] ?? 0) + queen * (K[2]?.[k] ?? 0);
    for (let i = 0; i < n; i++) V[i * n + i] = (V[i * n + i] ?? 0) + residual;
    const l = V.slice();
    if (!choleskyInPlace(l, n)) return Number.NEGATIVE_INFINITY;
    const inverse = inverseOf(V, n) as Float64Array;
    const times = (v: Float64Array) =>
      Float64Array.from({ length: n }, (_, i) => v.reduce((s, x, j) => s + (inverse[i * n + j] ?? 0) * x, 0));
    const VX = X.map(times);
    const dot = (a: Float64Array, b: Float64Array) => a.reduce((s, x, i) => s + x * (b[i] ?? 0), 0);
    const XVX = Float64Array.from(X.flatMap((a) => VX.map((b) => dot(a, b))));
    const lX = XVX.slice();
    if (!choleskyInPlace(lX, levels)) return Number.NEGATIVE_INFINITY;
    const y = Float64Array.from(records.values);
    const XVy = VX.map((column) => dot(column, y));
    const C = inverseOf(XVX, levels) as Float64Array;
    const explained = XVy.reduce((s, a, i) => s + a * XVy.reduce((t, b, j) => t + (C[i * levels + j] ?? 0) * b, 0), 0);
    return -0.5 * (logDeterminant(l, n) + logDeterminant(lX, levels) + dot(y, times(y)) - explained);
  };
}

/** The best of simplex searches from several starts. */
export function simplexMaximum(
  f: (x: readonly number[]) => number,
  starts: readonly number[][],
  rounds = 400,
): { x: number[]; value: number } {
  const found = starts.map((start) => oneSearch(f, start, rounds));
  return found.reduce((best, one) => (one.value > best.value ? one : best));
}

function oneSearch(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  rounds: number,
): { x: number[]; value: number } {
  let corners = [start, ...start.map((_, k) => start.map((v, i) => (i === k ? v * 1.3 + 0.05 : v)))].map((x) => ({
    x: [...x],
    value: f(x),
  }));
  const n = start.length;
  for (let round = 0; round < rounds; round++) {
    corners.sort((a, b) => b.value - a.value);
    const worst = corners[n] as { x: number[]; value: number };
    const best = corners[0] as { x: number[]; value: number };
    const centre = start.map((_, i) => corners.slice(0, n).reduce((s, c) => s + (c.x[i] ?? 0), 0) / n);
    const at = (scale: number) => {
      const x = centre.map((c, i) => c + scale * ((worst.x[i] ?? 0) - c));
      return { x, value: f(x) };
    };
    const reflected = at(-1);
    let next = reflected;
    if (reflected.value > best.value) {
      const further = at(-2);
      if (further.value > reflected.value) next = further;
    } else if (reflected.value <= (corners[n - 1]?.value ?? 0))
      next = reflected.value > worst.value ? at(-0.5) : at(0.5);
    if (next.value > worst.value) corners[n] = next;
    else
      corners = corners.map((c) =>
        c === best
          ? c
          : {
              x: c.x.map((v, i) => ((best.x[i] ?? 0) + v) / 2),
              value: f(c.x.map((v, i) => ((best.x[i] ?? 0) + v) / 2)),
            },
      );
  }
  corners.sort((a, b) => b.value - a.value);
  return corners[0] as { x: number[]; value: number };
}
