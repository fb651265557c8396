const LN2_HIGH = 0.6931471803691238; // its last 32 bits are 0, so e × LN2_HIGH is exact
const LN2_LOW = 1.9082149292705877e-10;

/**
 * Natural logarithm with nothing but IEEE 754 arithmetic, so that every engine gives the same bits (the standard leaves the last bit of
 * `Math.log` to the engine). Within 2 units in the last place of the true value. As `Math.log` (ECMA-262): −Infinity for 0 and −0, NaN for a negative
 * number or NaN, Infinity for Infinity.
 *
 * x = m·2^e with m in (√½, √2], then `ln m = 2 artanh((m−1)/(m+1))` by its series.
 * @example naturalLog(2) // 0.6931471805599453
 */
export function naturalLog(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  let m = x;
  let e = 0;
  while (m >= 4294967296) {
    m /= 4294967296;
    e += 32;
  }
  while (m < 1 / 4294967296) {
    m *= 4294967296;
    e -= 32;
  }
  while (m > Math.SQRT2) {
    m /= 2;
    e++;
  }
  while (m <= Math.SQRT1_2) {
    m *= 2;
    e--;
  }
  const f = m - 1;
  const s = f / (2 + f);
  const z = s * s;
  let series = 0;
  for (let k = 23; k >= 3; k -= 2) series = z * (1 / k + series);
  return e * LN2_HIGH + (e * LN2_LOW + (2 * s * series + 2 * s));
}
