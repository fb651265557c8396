import { eigenOf } from '../dense/small-matrix.ts';
import { chiSquareAbove } from './chi-square.ts';
import { isWatched, type Watched } from './kaplan-meier.ts';

/** A watched case of one of the groups 0 … G−1; cases are compared only within their `stratum` (any whole number; left out: all in one). */
export type GroupedCase = Watched & { group: number; stratum?: number };

/** What was seen in one group beside what would have been expected had all groups fared alike. */
export type GroupCount = { cases: number; observed: number; expected: number };

export type LogRank = {
  groups: GroupCount[];
  /** (O − E)' V⁻ (O − E), chi-square with `freedom` degrees of freedom when the groups fare alike. */
  statistic: number;
  /** Rank of V: groups that can be compared, less one. 0 when nothing can be compared; then the statistic is 0 and p is 1. */
  freedom: number;
  p: number;
};

type Sums = { observed: Float64Array; expected: Float64Array; variance: Float64Array };

/** Adds the events of one time: `at` cases at risk of each group, `happened` of them. */
function addTime(sums: Sums, at: Float64Array, happened: Float64Array): void {
  const groups = at.length;
  const n = at.reduce((sum, one) => sum + one, 0);
  const d = happened.reduce((sum, one) => sum + one, 0);
  const scale = n > 1 ? (d * (n - d)) / (n - 1) : 0;
  for (let g = 0; g < groups; g++) {
    const share = (at[g] as number) / n;
    sums.observed[g] = (sums.observed[g] as number) + (happened[g] as number);
    sums.expected[g] = (sums.expected[g] as number) + d * share;
    for (let h = 0; h < groups; h++) {
      const both = share * ((g === h ? 1 : 0) - (at[h] as number) / n);
      sums.variance[g * groups + h] = (sums.variance[g * groups + h] as number) + scale * both;
    }
  }
}

/** Walks the times of one stratum in rising order. */
function addStratum(sums: Sums, cases: readonly GroupedCase[], groups: number): void {
  const byTime = [...cases].sort((a, b) => a.time - b.time);
  const began = ({ from }: GroupedCase) => from ?? Number.NEGATIVE_INFINITY;
  const byFrom = [...cases].sort((a, b) => began(a) - began(b));
  const at = new Float64Array(groups);
  const add = (one: GroupedCase | undefined, by: number) => {
    if (one !== undefined) at[one.group] = (at[one.group] as number) + by;
  };
  let entered = 0;
  for (let i = 0; i < byTime.length; ) {
    const time = byTime[i]?.time ?? 0;
    for (; entered < byFrom.length && began(byFrom[entered] as GroupedCase) < time; entered++) add(byFrom[entered], 1);
    const leaving: GroupedCase[] = [];
    for (; i < byTime.length && byTime[i]?.time === time; i++) leaving.push(byTime[i] as GroupedCase);
    const happened = new Float64Array(groups);
    for (const one of leaving) if (one.happened) happened[one.group] = (happened[one.group] as number) + 1;
    if (happened.some((d) => d > 0)) addTime(sums, at, happened);
    for (const one of leaving) add(one, -1);
  }
}

/** x' V⁻ x and the rank of V, leaving out directions in which V is nothing. */
function quadratic(variance: Float64Array, x: Float64Array): { statistic: number; freedom: number } {
  const size = x.length;
  const { values, vectors } = eigenOf(variance, size);
  const least = 1e-10 * Math.max(0, ...values);
  let statistic = 0;
  let freedom = 0;
  values.forEach((value, k) => {
    if (!(value > least)) return;
    let along = 0;
    for (let i = 0; i < size; i++) along += (vectors[i * size + k] as number) * (x[i] as number);
    statistic += (along * along) / value;
    freedom++;
  });
  return { statistic, freedom };
}

/**
 * The log-rank test of two or more groups (Mantel 1966, Cancer Chemother Rep 50:163; Peto and Peto 1972, J R Stat Soc A 135:185) with the
 * hypergeometric variance, in strata where they are given, and with late beginnings: at risk at t are all with from < t <= time. The order of cases and the
 * names of groups do not matter. A group nobody of which was at risk beside others counts for nothing.
 * In the example 2 events are seen where 2/4 + 1/3 were expected, with variance 1/4 + 2/9.
 * @param groups how many groups there are; every `group` is 0 … groups − 1
 * @example const times = [{ time: 1, group: 0 }, { time: 2, group: 0 }, { time: 3, group: 1 }].map((one) => ({ ...one, happened: true }));
 * logRank([...times, { time: 4, happened: false, group: 1 }], 2).statistic // (7 / 6) ** 2 / (17 / 36)
 */
export function logRank(cases: readonly GroupedCase[], groups: number): LogRank {
  const watched = cases.filter(isWatched);
  const wrong = watched.find(({ group }) => !(Number.isInteger(group) && group >= 0 && group < groups));
  if (wrong !== undefined) throw new RangeError(`log-rank of ${groups} groups got group ${wrong.group}`);
  const sums: Sums = {
    observed: new Float64Array(groups),
    expected: new Float64Array(groups),
    variance: new Float64Array(groups * groups),
  };
  const strata = new Map<number, GroupedCase[]>();
  for (const one of watched) {
    const stratum = one.stratum ?? 0;
    const before = strata.get(stratum);
    if (before === undefined) strata.set(stratum, [one]);
    else before.push(one);
  }
  for (const stratum of strata.values()) addStratum(sums, stratum, groups);
  const { statistic, freedom } = quadratic(
    sums.variance,
    sums.observed.map((observed, g) => observed - (sums.expected[g] as number)),
  );
  const cells = Array.from({ length: groups }, (_, g) => ({
    cases: watched.filter(({ group }) => group === g).length,
    observed: sums.observed[g] as number,
    expected: sums.expected[g] as number,
  }));
  return { groups: cells, statistic, freedom, p: freedom === 0 ? 1 : chiSquareAbove(statistic, freedom) };
}
