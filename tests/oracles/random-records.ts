import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import type { Records } from '#domain/worth/records.ts';
import { randomStream } from '#numeric/random/random-stream.ts';

type Options = { seed: number; traits: number; yards?: number; further?: number; missing?: number; share?: number };

/** Records of some of the queens of a stock (some twice), with missing traits; every queen and level by chance. Values are of no meaning. */
export function randomRecords(pedigree: Pedigree, options: Options): Records {
  const { seed, traits, yards = 3, further = 0, missing = 0, share = 0.8 } = options;
  const random = randomStream(seed, 7);
  const { columns } = pedigree.stock;
  const queen: number[] = [];
  for (let i = 0; i < columns.queens; i++) {
    if (columns.sisters[i] !== 1) continue;
    if (random.uniform() < share) queen.push(i);
    if (random.uniform() < share * 0.15) queen.push(i);
  }
  const values = Float64Array.from({ length: queen.length * traits }, () =>
    random.uniform() < missing ? Number.NaN : 10 + 3 * random.normal(),
  );
  for (let r = 0; r < queen.length; r++) if (Number.isNaN(values[r * traits] ?? 0)) values[r * traits + traits - 1] = 5;
  const factor = (levels: number) => ({
    level: Int32Array.from(queen, (_, r) => (r < levels ? r : random.below(levels))),
    names: Array.from({ length: levels }, (_, k) => `level ${k}`),
  });
  return {
    count: queen.length,
    queen: Int32Array.from(queen),
    values,
    factors: [factor(yards), ...Array.from({ length: further }, () => factor(3))],
  };
}

/** A random positive definite matrix with unit-sized variances. */
export function randomCovariance(size: number, seed: number): Float64Array {
  const random = randomStream(seed, 9);
  const b = Float64Array.from({ length: size * size }, () => random.normal());
  const out = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      let sum = i === j ? 0.5 : 0;
      for (let k = 0; k < size; k++) sum += ((b[i * size + k] ?? 0) * (b[j * size + k] ?? 0)) / size;
      out[i * size + j] = sum;
    }
  }
  return out;
}
