/**
 * Effective drones per source made whole by largest remainder: the total is rounded, every source gets the whole part of its own, the
 * rest goes to the largest remainders. A source never ends with none while there are drones enough for one each, because some drone of
 * it was there.
 * @param wanted effective drones per source, > 0
 * @example wholeDrones([6.5, 3.1, 0.4]) // [6, 3, 1]
 */
export function wholeDrones(wanted: readonly number[]): number[] {
  const total = Math.max(1, Math.round(wanted.reduce((sum, drones) => sum + drones, 0)));
  const least = total >= wanted.length ? 1 : 0;
  const whole = wanted.map((drones) => Math.max(least, Math.floor(drones + 1e-9)));
  const short = (i: number) => (wanted[i] ?? 0) - (whole[i] ?? 0);
  const sum = () => whole.reduce((a, b) => a + b, 0);
  while (sum() < total) raise(whole, best(whole.length, short), 1);
  while (sum() > total)
    raise(
      whole,
      best(whole.length, (i) => ((whole[i] ?? 0) > least ? -short(i) : -Infinity)),
      -1,
    );
  return whole;
}

function raise(whole: number[], at: number, by: number): void {
  whole[at] = (whole[at] ?? 0) + by;
}

/** The first index with the largest value. */
function best(count: number, value: (i: number) => number): number {
  let at = 0;
  for (let i = 1; i < count; i++) if (value(i) > value(at) + 1e-9) at = i;
  return at;
}
