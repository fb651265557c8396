/** A column that grows while a file is read: its first `size` values count, the rest is room. */
export type Growing<T extends Int32Array | Float64Array | Uint8Array> = { values: T; size: number };

/**
 * An empty column of whole numbers (32 bits) with room for so many; it grows by itself, doubling.
 * @example growingInts(4) // { size: 0 }
 */
export const growingInts = (room: number): Growing<Int32Array> => ({ values: new Int32Array(room), size: 0 });
/**
 * An empty column of numbers with room for so many; it grows by itself, doubling.
 * @example growingNumbers(4) // { size: 0 }
 */
export const growingNumbers = (room: number): Growing<Float64Array> => ({ values: new Float64Array(room), size: 0 });

/**
 * Adds a whole number, −2³¹ … 2³¹−1, at the end.
 * @example const column = growingInts(1); pushInt(column, 5); pushInt(column, 6); filledInts(column) // [5, 6]
 */
export function pushInt(column: Growing<Int32Array>, value: number): void {
  if (column.size === column.values.length) {
    const wider = new Int32Array(column.size * 2 + 16);
    wider.set(column.values);
    column.values = wider;
  }
  column.values[column.size++] = value;
}

/**
 * Adds a number at the end.
 * @example const column = growingNumbers(1); pushNumber(column, 0.5); filledNumbers(column) // [0.5]
 */
export function pushNumber(column: Growing<Float64Array>, value: number): void {
  if (column.size === column.values.length) {
    const wider = new Float64Array(column.size * 2 + 16);
    wider.set(column.values);
    column.values = wider;
  }
  column.values[column.size++] = value;
}

/**
 * The values read so far: a view of the column's memory, good until it grows.
 * @example filledInts(growingInts(4)).length // 0
 */
export const filledInts = (column: Growing<Int32Array>): Int32Array => column.values.subarray(0, column.size);
/**
 * As {@link filledInts}.
 * @example filledNumbers(growingNumbers(4)).length // 0
 */
export const filledNumbers = (column: Growing<Float64Array>): Float64Array => column.values.subarray(0, column.size);
