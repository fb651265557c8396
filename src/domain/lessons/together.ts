import type { Outcome } from './outcome.ts';

/** A group whose queens share another factor that the other queens mostly do not have: the two cannot be told apart. */
export type Together = {
  group: string;
  factor: string;
  value: string;
  /** Queens of the group with that value, of those with any. */
  inside: number;
  insideOf: number;
  /** The same among all other queens. */
  outside: number;
  outsideOf: number;
};

/** Fewer queens share anything by chance. */
const LEAST = 3;
/** At most this share of the others has it too. */
const ELSEWHERE = 0.2;

type Counted = { value: string; of: number; with: number };

function commonest(values: readonly string[]): Counted | null {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const [first] = [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1));
  return first === undefined ? null : { value: first[0], with: first[1], of: values.length };
}

const known = (outcomes: readonly Outcome[], factor: string) =>
  outcomes.flatMap(({ factors }) => (factors[factor] ? [factors[factor] as string] : []));

/**
 * Factors that changed together with the one asked for: every queen of a group (3 or more) has the same value, and at most a
 * fifth of the others has it. "Tip 3 was used only with stored semen."
 * @param by the factor the outcomes are parted by
 * @param factors the others to look at
 */
export function changedTogether(
  outcomes: readonly Outcome[],
  { by, factors }: { by: string; factors: readonly string[] },
): Together[] {
  const groups = [...new Set(known(outcomes, by))].sort();
  return groups.flatMap((group) => {
    const inside = outcomes.filter((one) => one.factors[by] === group);
    const outside = outcomes.filter((one) => one.factors[by] !== group);
    return factors.flatMap((factor): Together[] => {
      if (factor === by) return [];
      const shared = commonest(known(inside, factor));
      if (shared === null || shared.of < LEAST || shared.with < shared.of) return [];
      const others = known(outside, factor);
      const alike = others.filter((value) => value === shared.value).length;
      if (others.length < LEAST || alike / others.length > ELSEWHERE) return [];
      const counts = { inside: shared.with, insideOf: shared.of, outside: alike, outsideOf: others.length };
      return [{ group, factor, value: shared.value, ...counts }];
    });
  });
}
