/** Residual covariances of records, with what was absorbed into them, inverted. */
import { choleskyInPlace, inverseOf, logDeterminant, type Square } from '#numeric/dense/small-matrix.ts';
import type { Model } from './model.ts';

/** Own variance of the queen and of the pool each record absorbed (0 = none), and its recorded traits as bits. */
export type Absorbed = {
  readonly absorbedQueen: Float64Array;
  readonly absorbedPool: Float64Array;
  readonly present: Int32Array;
};

/** Inverse and log-determinant of a record's residual covariance with what was absorbed. */
type Weighed = { weight: Square; logDeterminant: number };
type Weigh = (present: readonly number[], ownQueen: number, ownPool: number) => Weighed;

/** Works out residual covariances; for several traits the same one is worked out once. */
function weigher(model: Model): Weigh {
  const traits = model.traits.length;
  if (traits === 1) return weighOne(model);
  const known = new Map<string, Weighed>();
  return (present, ownQueen, ownPool) => {
    const key = `${ownQueen} ${ownPool} ${present.join()}`;
    const found = known.get(key);
    if (found) return found;
    const v = residualCovariance(model, present, ownQueen, ownPool);
    const l = v.slice();
    choleskyInPlace(l, present.length);
    const weighed = {
      weight: spreadWeight(inverseOf(v, present.length) as Square, present, traits),
      logDeterminant: logDeterminant(l, present.length),
    };
    known.set(key, weighed);
    return weighed;
  };
}

/** The same for one trait, without memory. */
function weighOne({ G, R }: Model): Weigh {
  const [worker = 0, mixed = 0, , queen = 0] = G;
  const residual = R[0] as number;
  const ofQueen = 0.25 * worker + mixed + queen;
  const weight = new Float64Array(1);
  return (_, ownQueen, ownPool) => {
    const v = residual + ownQueen * ofQueen + ownPool * worker;
    weight[0] = 1 / v;
    return { weight, logDeterminant: Math.log(v) };
  };
}

/** R + ownQueen · kGk' + ownPool · G_dd between the traits present, k = (½, 1). */
function residualCovariance(model: Model, present: readonly number[], ownQueen: number, ownPool: number): Square {
  const traits = model.traits.length;
  const g = (i: number, j: number) => model.G[i * 2 * traits + j] as number;
  const v = new Float64Array(present.length ** 2);
  for (const [a, s] of present.entries()) {
    for (const [b, t] of present.entries()) {
      const worker = g(2 * s, 2 * t);
      const mixed = 0.5 * (g(2 * s, 2 * t + 1) + g(2 * s + 1, 2 * t));
      const queen = 0.25 * worker + mixed + g(2 * s + 1, 2 * t + 1);
      v[a * present.length + b] = (model.R[s * traits + t] as number) + ownQueen * queen + ownPool * worker;
    }
  }
  return v;
}

function spreadWeight(inverse: Square, present: readonly number[], traits: number): Square {
  if (present.length === traits) return inverse;
  const out = new Float64Array(traits * traits);
  for (const [a, s] of present.entries()) {
    for (const [b, t] of present.entries()) out[s * traits + t] = inverse[a * present.length + b] as number;
  }
  return out;
}

/**
 * Weights of all records and the sum of the log-determinants of their residual covariances. Weight of a record: the inverse of `R + d_Q kGk' + d_S G_dd`
 * between the traits present (k = ½ on worker, 1 on queen effect; G_dd worker effects; Quaas and Pollak 1980, J Anim Sci 51:1277), `t × t` in 1/unit², 0 where
 * a trait is absent. G and R must be positive definite; at most 31 traits.
 * @param given d_Q and d_S (0 or more, in units of G) and the bits of the traits present (bit t = trait t), one number a record
 * @example const given = { absorbedQueen: Float64Array.of(0, 0.25), absorbedPool: Float64Array.of(0, 1 / 24), present: Int32Array.of(1, 1) };
 * weighAll(workedPrepared().model, given).weight // [0.100000, 0.089888]; 1/10, and 1/(10 + 0.25 · 3.5 + 6/24)
 */
export function weighAll(model: Model, given: Absorbed): { weight: Float64Array; sum: number } {
  const traits = model.traits.length;
  const weigh = weigher(model);
  const count = given.present.length;
  const weight = new Float64Array(count * traits * traits);
  const patterns = Array.from({ length: 2 ** traits }, (_, bits) =>
    model.traits.flatMap((_name, t) => (bits & (1 << t) ? [t] : [])),
  );
  let sum = 0;
  for (let r = 0; r < count; r++) {
    const present = patterns[given.present[r] as number] as number[];
    const weighed = weigh(present, given.absorbedQueen[r] as number, given.absorbedPool[r] as number);
    if (traits === 1) weight[r] = weighed.weight[0] as number;
    else weight.set(weighed.weight, r * traits * traits);
    sum += weighed.logDeterminant;
  }
  return { weight, sum };
}
