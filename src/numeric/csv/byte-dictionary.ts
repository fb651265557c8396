/**
 * Gives every different text in a file a small number, straight from its bytes: an open-addressing hash table whose keys are
 * spans of the file, so a million codes cost no strings. Surrounding ASCII white space does not count.
 */
import { decodeUtf8, encodeUtf8 } from './utf8.ts';

/** Texts numbered 0, 1, 2 … in the order they were first met. `origin` says which buffer a span lies in. */
export type ByteDictionary = {
  size: number;
  readonly buffers: Uint8Array[];
  table: Int32Array;
  hash: Int32Array;
  origin: Int32Array;
  start: Int32Array;
  end: Int32Array;
};

const EMPTY = -1;

/** An empty dictionary with room for about `expected` texts; it grows by itself. */
export function makeDictionary(expected = 1024): ByteDictionary {
  const room = Math.max(16, expected);
  return {
    size: 0,
    buffers: [],
    table: new Int32Array(tableSize(room)).fill(EMPTY),
    hash: new Int32Array(room),
    origin: new Int32Array(room),
    start: new Int32Array(room),
    end: new Int32Array(room),
  };
}

const tableSize = (room: number) => 2 ** Math.ceil(Math.log2(room * 2));

/** Registers a file and answers its number for {@link intern}. */
export function addBuffer(dictionary: ByteDictionary, bytes: Uint8Array): number {
  return dictionary.buffers.push(bytes) - 1;
}

function hashOf(bytes: Uint8Array, start: number, end: number): number {
  let h = 0x811c9dc5; // offset basis and prime of the 32-bit Fowler-Noll-Vo hash (FNV-1a), then a final mix
  for (let at = start; at < end; at++) h = Math.imul(h ^ (bytes[at] as number), 0x01000193);
  h ^= h >>> 15;
  return Math.imul(h, 0x2c1b3c6d) ^ (h >>> 12);
}

function sameBytes(a: Uint8Array, aStart: number, b: Uint8Array, bStart: number, length: number): boolean {
  for (let k = 0; k < length; k++) if (a[aStart + k] !== b[bStart + k]) return false;
  return true;
}

function find(d: ByteDictionary, bytes: Uint8Array, start: number, end: number, hash: number): number {
  const mask = d.table.length - 1;
  for (let slot = hash & mask; ; slot = (slot + 1) & mask) {
    const id = d.table[slot] as number;
    if (id === EMPTY) return ~slot;
    if (d.hash[id] !== hash) continue;
    const from = d.start[id] as number;
    if ((d.end[id] as number) - from !== end - start) continue;
    if (sameBytes(d.buffers[d.origin[id] as number] as Uint8Array, from, bytes, start, end - start)) return id;
  }
}

function grow(d: ByteDictionary): void {
  const room = d.hash.length * 2;
  d.hash = copyInto(new Int32Array(room), d.hash);
  d.origin = copyInto(new Int32Array(room), d.origin);
  d.start = copyInto(new Int32Array(room), d.start);
  d.end = copyInto(new Int32Array(room), d.end);
  d.table = new Int32Array(tableSize(room)).fill(EMPTY);
  const mask = d.table.length - 1;
  for (let id = 0; id < d.size; id++) {
    let slot = (d.hash[id] as number) & mask;
    while (d.table[slot] !== EMPTY) slot = (slot + 1) & mask;
    d.table[slot] = id;
  }
}

function copyInto(wider: Int32Array<ArrayBuffer>, old: Int32Array): Int32Array<ArrayBuffer> {
  wider.set(old);
  return wider;
}

/**
 * The number of the text in `buffer[start, end)`, a new one when it was not met before; -1 when it is empty.
 * @param buffer number from {@link addBuffer}
 */
export function intern(d: ByteDictionary, buffer: number, start: number, end: number): number {
  const bytes = d.buffers[buffer] as Uint8Array;
  let from = start;
  let to = end;
  while (from < to && (bytes[from] as number) <= 0x20) from++;
  while (to > from && (bytes[to - 1] as number) <= 0x20) to--;
  if (from === to) return -1;
  const hash = hashOf(bytes, from, to);
  const place = find(d, bytes, from, to, hash);
  if (place >= 0) return place;
  const id = d.size++;
  d.table[~place] = id;
  d.hash[id] = hash;
  d.origin[id] = buffer;
  d.start[id] = from;
  d.end[id] = to;
  if (d.size === d.hash.length) grow(d);
  return id;
}

/** The number of a text that does not stand in a file as it is (its quotation marks were doubled there); as {@link intern}. */
export function internText(d: ByteDictionary, text: string): number {
  const bytes = encodeUtf8(text);
  const known = bytes.length === 0 ? -1 : find(d, bytes, 0, bytes.length, hashOf(bytes, 0, bytes.length));
  return known >= 0 || bytes.length === 0 ? known : intern(d, addBuffer(d, bytes), 0, bytes.length);
}

/** The number of a text that was met before, or -1. */
export function lookUp(d: ByteDictionary, text: string): number {
  const bytes = encodeUtf8(text);
  const place = find(d, bytes, 0, bytes.length, hashOf(bytes, 0, bytes.length));
  return place >= 0 ? place : -1;
}

/** The text with number `id`. */
export function textOf(d: ByteDictionary, id: number): string {
  return decodeUtf8(d.buffers[d.origin[id] as number] as Uint8Array, d.start[id], d.end[id]);
}
