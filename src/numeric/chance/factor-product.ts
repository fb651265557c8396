import { type Factor, factorBelow, isPoint, meanOf } from './factor.ts';

/** A distribution as values with weights that add up to 1, as many of both, smallest value first. A weight may stand at the value 0. */
export type Nodes = { values: Float64Array; weights: Float64Array };

/** Width of a cell on the scale of logarithms: half a per cent. */
const STEP = 0.005;
/** Mass left out at each end; far below anything anybody could notice. */
const TRIM = 1e-11;
/** Smallest value kept apart from 0. */
const FLOOR = Math.log(1e-6);

/** Masses of cells of width STEP on the logarithm; cell i holds logarithms (from + i) STEP … (from + i + 1) STEP. */
type Cells = { from: number; mass: Float64Array; zero: number };

function cellsOfDensity(factor: Extract<Factor, { kind: 'share' | 'size' }>): Cells {
  const below = factorBelow(factor);
  const top = factor.kind === 'share' ? 0 : Math.ceil((Math.log(factor.mean) + 8 * (factor.sd / factor.mean)) / STEP);
  const least = Math.floor(FLOOR / STEP);
  const masses: number[] = [];
  let above = 1;
  let from = top;
  while (from > least && above > TRIM) {
    from--;
    const under = below(Math.exp(from * STEP));
    masses.push(above - under);
    above = under;
  }
  return { from, mass: Float64Array.from(masses.reverse()), zero: above };
}

/** Each value is laid into the two cells whose middles it lies between, so that its logarithm is kept. */
function cellsOfList({ values, weights }: Extract<Factor, { kind: 'list' }>): Cells {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const places = values.map((value) => (value > 1e-6 ? Math.log(value) / STEP - 0.5 : null));
  const seen = places.filter((place) => place !== null);
  const from = Math.floor(Math.min(...seen, 0));
  const mass = new Float64Array(Math.floor(Math.max(...seen, from)) - from + 2);
  let zero = 0;
  places.forEach((place, i) => {
    const share = (weights[i] ?? 0) / total;
    if (place === null) zero += share;
    else layBetween(mass, place - from, share);
  });
  return { from, mass, zero };
}

function layBetween(mass: Float64Array, place: number, share: number): void {
  const under = Math.floor(place);
  mass[under] = (mass[under] ?? 0) + share * (under + 1 - place);
  mass[under + 1] = (mass[under + 1] ?? 0) + share * (place - under);
}

/** Middle plus middle is the border of the two cells that share it, so each product is laid half and half into both. */
function multiply(a: Cells, b: Cells): Cells {
  const mass = new Float64Array(a.mass.length + b.mass.length);
  for (let i = 0; i < a.mass.length; i++) {
    const half = (a.mass[i] ?? 0) / 2;
    if (half === 0) continue;
    for (let j = 0; j < b.mass.length; j++) {
      const share = half * (b.mass[j] ?? 0);
      mass[i + j] = (mass[i + j] ?? 0) + share;
      mass[i + j + 1] = (mass[i + j + 1] ?? 0) + share;
    }
  }
  return trimmed({ from: a.from + b.from, mass, zero: a.zero + b.zero - a.zero * b.zero });
}

function trimmed({ from, mass, zero }: Cells): Cells {
  let [start, end] = [0, mass.length];
  let lost = 0;
  for (; start < end && lost + (mass[start] ?? 0) < TRIM; start++) lost += mass[start] ?? 0;
  for (; end > start + 1 && (mass[end - 1] ?? 0) === 0; end--);
  return { from: from + start, mass: mass.slice(start, end), zero: zero + lost };
}

/** Cells drawn together to at most so wide on the logarithm; each node stands at the mean of its cells. */
function nodesOf({ from, mass, zero }: Cells, width: number): Nodes {
  const every = Math.max(1, Math.round(width / STEP));
  const values: number[] = zero > 0 ? [0] : [];
  const weights: number[] = zero > 0 ? [zero] : [];
  for (let i = 0; i < mass.length; i += every) {
    let [weight, sum] = [0, 0];
    for (let j = i; j < Math.min(i + every, mass.length); j++) {
      weight += mass[j] ?? 0;
      sum += (mass[j] ?? 0) * Math.exp((from + j + 0.5) * STEP);
    }
    if (weight === 0) continue;
    values.push(sum / weight);
    weights.push(weight);
  }
  return { values: Float64Array.from(values), weights: Float64Array.from(weights) };
}

/** Scales weights to 1 and values to the mean that is known exactly: the product of the means. */
function settle({ values, weights }: Nodes, mean: number): Nodes {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const found = values.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0) / total;
  const scale = found > 0 ? mean / found : 1;
  return { values: values.map((value) => value * scale), weights: weights.map((weight) => weight / total) };
}

/**
 * The distribution of the product of independent factors, by adding up their logarithms on a grid of half a per cent; the mean is exact.
 * `width` is how far nodes may be drawn together (1 % unless told). A count through such a share has its distribution function within 1e-3 of the
 * exact one while the mean share is below about 0.8 (nearer to 1 use count-steps.ts; count-mixture.test.ts compares). No factor: the one node 1.
 * @example const { values, weights } = factorProduct([{ kind: 'share', mean: 0.8, sd: 0.1 }, { kind: 'point', value: 0.5 }]);
 * values.reduce((sum, value, i) => sum + value * weights[i], 0) // 0.4
 */
export function factorProduct(factors: readonly Factor[], width = 0.01): Nodes {
  const mean = factors.reduce((product, factor) => product * meanOf(factor), 1);
  const doubtful = factors.filter((factor) => !isPoint(factor));
  const cells = doubtful.map((factor) =>
    factor.kind === 'list'
      ? cellsOfList(factor)
      : cellsOfDensity(factor as Extract<Factor, { kind: 'share' | 'size' }>),
  );
  const [first, ...rest] = cells;
  if (first === undefined || mean === 0) return { values: Float64Array.of(mean), weights: Float64Array.of(1) };
  return settle(nodesOf(rest.reduce(multiply, first), width), mean);
}
