/**
 * Weights of draws that have met evidence (sequential importance sampling, Gordon, Salmond and Smith 1993, IEE Proc F 140:107): each
 * observation multiplies the weight of a draw by its chance there; when few draws carry most of the weight, all state is drawn anew.
 */
import type { RandomStream } from '#numeric/random/random-stream.ts';

export type Particles = { readonly draws: number; readonly weight: Float64Array };

export const makeParticles = (draws: number): Particles => ({ draws, weight: new Float64Array(draws).fill(1) });

/** Multiplies each weight by `chance(r)` and scales them to mean 1; `false` when no draw can have it. */
export function observe(particles: Particles, chance: (r: number) => number): boolean {
  let sum = 0;
  for (let r = 0; r < particles.draws; r++) {
    const weight = (particles.weight[r] as number) * chance(r);
    particles.weight[r] = weight;
    sum += weight;
  }
  if (!(sum > 0)) return false;
  for (let r = 0; r < particles.draws; r++)
    particles.weight[r] = ((particles.weight[r] as number) * particles.draws) / sum;
  return true;
}

/** How many equally weighted draws carry as much: (Σw)² / Σw² (Kish 1965). */
export function effectiveDraws(particles: Particles): number {
  let sum = 0;
  let squares = 0;
  for (const weight of particles.weight) {
    sum += weight;
    squares += weight * weight;
  }
  return (sum * sum) / squares;
}

/** Which old draw each new one continues: systematic resampling (Kitagawa 1996, J Comput Graph Stat 5:1). Weights become 1. */
export function resample(particles: Particles, random: RandomStream): Int32Array {
  const from = new Int32Array(particles.draws);
  let at = random.uniform();
  let next = 0;
  let passed = 0;
  for (let r = 0; r < particles.draws; r++) {
    passed += particles.weight[r] as number;
    while (next < particles.draws && at < passed) {
      from[next++] = r;
      at += 1;
    }
  }
  from.fill(from[Math.max(0, next - 1)] as number, next);
  particles.weight.fill(1);
  return from;
}

/** Rows of draws in a new order; `values` holds one or several rows of `draws` each. */
export function rearrange(values: Uint16Array | Uint8Array, from: Int32Array): void {
  const old = values.slice();
  for (let row = 0; row < values.length; row += from.length) {
    for (let r = 0; r < from.length; r++) values[row + r] = old[row + (from[r] as number)] as number;
  }
}
