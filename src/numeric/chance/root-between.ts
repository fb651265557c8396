/**
 * Where an increasing function crosses zero between `low` and `high`, by bisection with secant steps (the Illinois form of
 * regula falsi, Dowell and Jarratt 1971), to the last digit a double can hold.
 * `f(low) <= 0 <= f(high)` must hold; otherwise the nearer end is returned. At most 400 calls of f.
 * @example rootBetween((x) => x * x - 2, 0, 2) // Math.sqrt(2)
 */
export function rootBetween(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa >= 0) return a;
  if (fb <= 0) return b;
  for (let step = 0; step < 400; step++) {
    const secant = (a * fb - b * fa) / (fb - fa);
    const middle = a + (b - a) / 2;
    const x = step % 3 !== 2 && secant > a && secant < b ? secant : middle;
    if (x === a || x === b || b - a <= Number.EPSILON * Math.max(Math.abs(a), Math.abs(b))) return x;
    const fx = f(x);
    if (fx === 0) return x;
    if (fx < 0) {
      [a, fa] = [x, fx];
      fb /= 2;
    } else {
      [b, fb] = [x, fx];
      fa /= 2;
    }
  }
  return a + (b - a) / 2;
}
