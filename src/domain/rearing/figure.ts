/** What a figure of the trade rests on. */
export type Basis = 'published' | 'common practice' | 'worked out' | 'from memory' | 'own records';

/** One figure with its plausible range and what it rests on, so a page can say how sure it is. */
export type Figure = {
  /** The value used when nothing else is known; days, a share 0-1, or µl as the field that holds it says. */
  value: number;
  /** Plausible range; equal to `value` where none is known. */
  low: number;
  high: number;
  basis: Basis;
  /** Author, year and place; for common practice the words "common practice". */
  source: string;
};

/** A figure without a known range. */
export function figure(value: number, basis: Basis, source: string): Figure {
  return { value, low: value, high: value, basis, source };
}

/** A figure with its range. Throws when `low <= value <= high` does not hold. */
export function ranged(range: { value: number; low: number; high: number }, basis: Basis, source: string): Figure {
  const { value, low, high } = range;
  if (!(low <= value && value <= high)) throw new RangeError(`not ordered: ${low}, ${value}, ${high}`);
  return { value, low, high, basis, source };
}
