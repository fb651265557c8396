import { gunzipSync, gzipSync, strFromU8, strToU8 } from 'fflate';

/**
 * Plain data packed to be kept: its JSON text in UTF-8, gzipped (RFC 1952) with no time in the header, so that equal data give equal bytes.
 * @example pack({ seed: 1 }).subarray(0, 2) // 0x1f, 0x8b
 */
export const pack = (data: object): Uint8Array<ArrayBuffer> =>
  gzipSync(strToU8(JSON.stringify(data)), { level: 6, mtime: 0 }) as Uint8Array<ArrayBuffer>;

/** The data that were packed. Throws when the bytes are no gzip, or hold no JSON. */
export const unpack = (bytes: Uint8Array): unknown => JSON.parse(strFromU8(gunzipSync(bytes)));
