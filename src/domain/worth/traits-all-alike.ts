import type { Records } from './records.ts';

/**
 * Traits in which every colony has the value of the others of its yard-year (level of the leading effect): nothing to compare, as of a tester who always gives
 * 3. A trait that no yard-year has twice is not among them; that is told by {@link ./connectedness.ts}. Without a leading effect all records are one group;
 * without records none is told.
 * @param traits names in the order of the records' values
 * @example const factors = [{ level: Int32Array.of(0, 0), names: ['Mill 2025'] }];
 * traitsAllAlike({ count: 2, queen: Int32Array.of(0, 1), values: Float64Array.of(42, 3, 35, 3), factors }, ['honey', 'calmness']) // ['calmness']
 */
export function traitsAllAlike({ count, values, factors }: Records, traits: readonly string[]): string[] {
  const t = traits.length;
  const [leading] = factors;
  return traits.filter((_, s) => {
    const first = new Map<number, number>();
    let isCompared = false;
    for (let r = 0; r < count; r++) {
      const value = values[r * t + s] as number;
      if (Number.isNaN(value)) continue;
      const level = leading?.level[r] ?? 0;
      const known = first.get(level);
      if (known === undefined) first.set(level, value);
      else if (known !== value) return false;
      else isCompared = true;
    }
    return isCompared;
  });
}
