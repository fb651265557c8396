import { logGamma } from './log-gamma.ts';

const logChoose = (n: number, k: number) => logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);

/** Tables this much more likely than the one seen still count as "no more likely": rounding must not break ties. */
const TIE = 1 + 1e-7;

/**
 * How often chance alone makes two groups differ as much as they do: Fisher's exact test, two-sided (all tables with the same margins
 * that are no more likely than the one seen). `a` of `m` in one group, `b` of `n` in the other. 1 when either group is empty.
 * Source: Fisher 1935, J R Stat Soc 98:39; two sides by the likelihood of tables, as R's `fisher.test` does.
 * @example fisherExact({ a: 37, m: 59, b: 50, n: 59 }) // 0.0114
 */
export function fisherExact({ a, m, b, n }: { a: number; m: number; b: number; n: number }): number {
  const all = a + b;
  const low = Math.max(0, all - n);
  const high = Math.min(m, all);
  const logs = Array.from({ length: high - low + 1 }, (_, i) => logChoose(m, low + i) + logChoose(n, all - low - i));
  const total = logChoose(m + n, all);
  const chances = logs.map((log) => Math.exp(log - total));
  const seen = chances[a - low] ?? 0;
  return Math.min(
    1,
    chances.filter((chance) => chance <= seen * TIE).reduce((sum, chance) => sum + chance, 0),
  );
}
