const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,4})?$/i;

/**
 * The number a cell holds: digits with an optional sign, point (or comma when `decimalComma`) and exponent, spaces around it allowed.
 * `null` for anything else: an empty cell, `1 000`, `0x10`, `Infinity`, a value too large for a double.
 * @example parseDecimal('2,5', true) // 2.5
 */
export function parseDecimal(text: string, decimalComma: boolean): number | null {
  const trimmed = text.trim();
  const pointed = decimalComma ? trimmed.replace(',', '.') : trimmed;
  if (!PLAIN.test(pointed)) return null;
  const value = Number(pointed);
  return Number.isFinite(value) ? value : null;
}
