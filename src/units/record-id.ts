/** Identity of everything that is written down: a UUID version 7 (RFC 9562), lower case. */
export type RecordId = string & { readonly __unit: 'id' };

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** True for any UUID in lower case. */
export const isRecordId = (text: string): text is RecordId => UUID.test(text);

const hex = (n: number, width: number) => n.toString(16).padStart(width, '0');

/**
 * A UUIDv7 from a time and 10 random bytes: 48 bits of milliseconds, then 74 random bits.
 * @param milliseconds since 1970, UTC
 * @param random ten bytes 0-255
 */
export function uuid7(milliseconds: number, random: Uint8Array): RecordId {
  const [a = 0, b = 0, c = 0, ...rest] = random;
  const time = hex(milliseconds, 12);
  const tail = rest.map((byte) => hex(byte, 2)).join('');
  const third = hex(0x7000 | ((a & 0x0f) << 8) | b, 4);
  const fourth = hex(0x80 | (c & 0x3f), 2) + tail.slice(0, 2);
  return `${time.slice(0, 8)}-${time.slice(8)}-${third}-${fourth}-${tail.slice(2, 14)}` as RecordId;
}

/** One round of the 32-bit finaliser of MurmurHash3 (public domain, Appleby 2008). */
function mix(value: number): number {
  let h = value;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/**
 * The id of the `n`-th record an act creates: the time of the act, then `n` (32 bits, so that ids sort in the order of
 * entry), then 42 bits fixed by the act's own random bits and `n`. An act done twice makes the same records, and a
 * device that is cut off knows the ids its acts will make.
 * @param n 0 … 2³² − 1
 */
export function idWithin(act: RecordId, n: number): RecordId {
  const bits = act.replaceAll('-', '');
  const seeds = [bits.slice(13, 20), bits.slice(17, 24), bits.slice(24, 32)].map((part) => Number.parseInt(part, 16));
  let state = mix(n + 0x9e3779b9);
  const random = new Uint8Array(10);
  for (let i = 4; i < random.length; i++) {
    state = mix((state + mix(seeds[i % 3] ?? 0) + i) >>> 0);
    random[i] = state & 0xff;
  }
  // 12 bits after the version, then 20 of the bits after the variant, carry n from the top down.
  random[0] = n >>> 28;
  random[1] = (n >>> 20) & 0xff;
  random[2] = (n >>> 14) & 0x3f;
  random[3] = (n >>> 6) & 0xff;
  random[4] = ((n & 0x3f) << 2) | ((random[4] ?? 0) & 0x03);
  return uuid7(Number.parseInt(bits.slice(0, 12), 16), random);
}
