/**
 * Gives every different text in a file a small number, straight from its bytes: an open-addressing hash table whose keys are spans of the file, so a
 * million codes cost no strings. A slot holds the first eight bytes, the length and the number, so that a short code is told from another
 * within one line of the cache. Surrounding ASCII white space does not count.
 */
import { decodeUtf8, encodeUtf8 } from '#units/utf8.ts';

/** Texts numbered 0, 1, 2 … in the order they were first met: text i is `buffers[origin[i]][start[i] … end[i]−1]`. The arrays have room to spare. */
export type ByteDictionary = {
  size: number;
  readonly buffers: Uint8Array[];
  /** Four words a slot: bytes 0-3, bytes 4-7, length, number + 1 (0 = empty). */
  table: Int32Array;
  origin: Int32Array;
  start: Int32Array;
  end: Int32Array;
};

/**
 * An empty dictionary with room for about `expected` texts; it grows by itself. Memory: some 40 to 120 bytes a text, whatever its length.
 * @example const d = makeDictionary(); internText(d, 'a'); internText(d, 'b'); lookUp(d, 'b') // 1
 */
export function makeDictionary(expected = 1024): ByteDictionary {
  const room = Math.max(16, Math.ceil(expected));
  return {
    size: 0,
    buffers: [],
    table: new Int32Array(4 * slotsFor(room)),
    origin: new Int32Array(room),
    start: new Int32Array(room),
    end: new Int32Array(room),
  };
}

const slotsFor = (room: number) => 2 ** Math.ceil(Math.log2(room * 1.5));

/**
 * Registers a file and answers its number for {@link intern}. Its bytes must not change afterwards: texts are kept as places in it.
 * @example addBuffer(makeDictionary(), Uint8Array.of(97, 44, 98)) // 0
 */
export function addBuffer(dictionary: ByteDictionary, bytes: Uint8Array): number {
  return dictionary.buffers.push(bytes) - 1;
}

/** Up to four bytes from `at` as one word, missing ones 0. */
function wordAt(bytes: Uint8Array, at: number, end: number): number {
  let word = 0;
  const stop = Math.min(end, at + 4);
  for (let k = at, shift = 0; k < stop; k++, shift += 8) word |= (bytes[k] as number) << shift;
  return word;
}

/** Hash of a span from its first two words, and of what lies beyond them. */
function hashOf(low: number, high: number, bytes: Uint8Array, from: number, end: number): number {
  let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca77);
  for (let at = from; at < end; at++) h = Math.imul(h ^ (bytes[at] as number), 0x01000193);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 13);
}

/** Whether the bytes beyond the first eight are those of text `id`. */
function sameRest(d: ByteDictionary, id: number, bytes: Uint8Array, start: number, end: number): boolean {
  const other = d.buffers[d.origin[id] as number] as Uint8Array;
  const from = d.start[id] as number;
  for (let k = start + 8, l = from + 8; k < end; k++, l++) if (bytes[k] !== other[l]) return false;
  return true;
}

/** Number of the span if it is known, else −1 − slot. */
function find(d: ByteDictionary, bytes: Uint8Array, start: number, end: number): number {
  const { table } = d;
  const mask = table.length / 4 - 1;
  const length = end - start;
  const low = wordAt(bytes, start, end);
  const high = length > 4 ? wordAt(bytes, start + 4, end) : 0;
  for (let slot = hashOf(low, high, bytes, start + 8, end) & mask; ; slot = (slot + 1) & mask) {
    const at = 4 * slot;
    const number = table[at + 3] as number;
    if (number === 0) return -1 - slot;
    if (table[at] !== low || table[at + 1] !== high || table[at + 2] !== length) continue;
    if (length <= 8 || sameRest(d, number - 1, bytes, start, end)) return number - 1;
  }
}

function put(table: Int32Array, slot: number, bytes: Uint8Array, start: number, end: number, id: number): void {
  table[4 * slot] = wordAt(bytes, start, end);
  table[4 * slot + 1] = end - start > 4 ? wordAt(bytes, start + 4, end) : 0;
  table[4 * slot + 2] = end - start;
  table[4 * slot + 3] = id + 1;
}

function wider(old: Int32Array, room: number): Int32Array<ArrayBuffer> {
  const out = new Int32Array(room);
  out.set(old);
  return out;
}

function grow(d: ByteDictionary): void {
  const room = d.start.length * 2;
  d.origin = wider(d.origin, room);
  d.start = wider(d.start, room);
  d.end = wider(d.end, room);
  if (4 * slotsFor(room) <= d.table.length) return;
  d.table = new Int32Array(4 * slotsFor(room));
  const mask = d.table.length / 4 - 1;
  for (let id = 0; id < d.size; id++) {
    const bytes = d.buffers[d.origin[id] as number] as Uint8Array;
    const start = d.start[id] as number;
    const end = d.end[id] as number;
    const high = end - start > 4 ? wordAt(bytes, start + 4, end) : 0;
    let slot = hashOf(wordAt(bytes, start, end), high, bytes, start + 8, end) & mask;
    while (d.table[4 * slot + 3] !== 0) slot = (slot + 1) & mask;
    put(d.table, slot, bytes, start, end, id);
  }
}

/**
 * The number of the text in `buffer[start, end)`, a new one when it was not met before; -1 when it is empty.
 * @param buffer number from {@link addBuffer}
 * @example const d = makeDictionary(); const file = addBuffer(d, Uint8Array.of(97, 44, 98)); intern(d, file, 0, 1); intern(d, file, 2, 3) // 1
 */
export function intern(d: ByteDictionary, buffer: number, start: number, end: number): number {
  const bytes = d.buffers[buffer] as Uint8Array;
  let from = start;
  let to = end;
  while (from < to && (bytes[from] as number) <= 0x20) from++;
  while (to > from && (bytes[to - 1] as number) <= 0x20) to--;
  if (from === to) return -1;
  const known = find(d, bytes, from, to);
  if (known >= 0) return known;
  const id = d.size++;
  d.origin[id] = buffer;
  d.start[id] = from;
  d.end[id] = to;
  put(d.table, -1 - known, bytes, from, to, id);
  if (d.size === d.start.length) grow(d);
  return id;
}

/**
 * The number of the text in `bytes[start, end)` if it was met before, or -1; surrounding ASCII white space does not count.
 * @example const d = makeDictionary(); internText(d, 'a'); lookUpBytes(d, Uint8Array.of(32, 97), 0, 2) // 0
 */
export function lookUpBytes(d: ByteDictionary, bytes: Uint8Array, start: number, end: number): number {
  let from = start;
  let to = end;
  while (from < to && (bytes[from] as number) <= 0x20) from++;
  while (to > from && (bytes[to - 1] as number) <= 0x20) to--;
  return from === to ? -1 : Math.max(-1, find(d, bytes, from, to));
}

/**
 * The number of a text that does not stand in a file as it is (its quotation marks were doubled there); as {@link intern}.
 * @example const d = makeDictionary(); internText(d, 'a'); internText(d, 'a') // 0
 */
export function internText(d: ByteDictionary, text: string): number {
  const bytes = encodeUtf8(text);
  if (bytes.length === 0) return -1;
  const known = find(d, bytes, 0, bytes.length);
  return known >= 0 ? known : intern(d, addBuffer(d, bytes), 0, bytes.length);
}

/**
 * The number of a text that was met before, or -1; white space around it counts.
 * @example lookUp(makeDictionary(), 'a') // -1
 */
export function lookUp(d: ByteDictionary, text: string): number {
  const bytes = encodeUtf8(text);
  return bytes.length === 0 ? -1 : Math.max(-1, find(d, bytes, 0, bytes.length));
}

/**
 * The text with number `id`, 0 … size−1.
 * @example const d = makeDictionary(); textOf(d, internText(d, 'a')) // 'a'
 */
export function textOf(d: ByteDictionary, id: number): string {
  return decodeUtf8(d.buffers[d.origin[id] as number] as Uint8Array, d.start[id], d.end[id]);
}
