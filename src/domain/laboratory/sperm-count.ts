import { Z95 } from '#numeric/intervals/interval.ts';
import { poissonExact } from '#numeric/intervals/poisson-exact.ts';

/** A count under the microscope: sperm counted, µl they were counted in, µl of the whole suspension, further dilution ≥ 1. */
export type ChamberCount = { counted: number; countedVolume: number; suspension: number; dilution: number };

/** Sperm in the sample. `cv` of the count alone; null where nothing was counted. Pipetting and filling add error of their own. */
export type SpermCount = {
  total: number;
  cv: number | null;
  /** Normal 95 % interval, as handbooks give it; null where nothing was counted. */
  low: number | null;
  high: number | null;
  /** Exact Poisson 95 % interval (Garwood 1936): the one to show. */
  lowExact: number;
  highExact: number;
};

/**
 * Sperm in a sample from a chamber count: counted ÷ counted volume × suspension × dilution, with what the count alone leaves
 * open: CV = 1/√counted, total × (1 ± 1.959964 CV), and the exact Poisson interval.
 * Throws unless `counted` is a whole number ≥ 0, the volumes are > 0 and the dilution ≥ 1.
 * @example spermCount({ counted: 172, countedVolume: 0.04, suspension: 500, dilution: 1 }).total // 2150000
 */
export function spermCount(chamber: ChamberCount): SpermCount {
  const { counted, countedVolume, suspension, dilution } = chamber;
  if (!(countedVolume > 0 && suspension > 0 && dilution >= 1)) {
    throw new RangeError(`not volumes of a count: ${countedVolume}, ${suspension}, ${dilution}`);
  }
  const scale = (count: number) => ((count * suspension) / countedVolume) * dilution;
  const exact = poissonExact(counted);
  const total = scale(counted);
  const bounds = { lowExact: scale(exact.low), highExact: scale(exact.high) };
  if (counted === 0) return { total, cv: null, low: null, high: null, ...bounds };
  const cv = 1 / Math.sqrt(counted);
  return { total, cv, low: total * (1 - Z95 * cv), high: total * (1 + Z95 * cv), ...bounds };
}
