import { crc32, inflateRawSync } from 'node:zlib';

/** What a zip from outside may be at most. */
export type ZipLimits = { entries: number; bytes: number };

/** The usual limits: 2,000 entries, 200 MB unpacked. */
export const usualZipLimits: ZipLimits = { entries: 2_000, bytes: 200_000_000 };

/** Thrown for a zip that is broken, too large, or names files it may not. `code` says which. */
export class BadZip extends Error {
  readonly code: 'not-a-zip' | 'too-many-entries' | 'too-large' | 'bad-name' | 'broken' | 'encrypted';
  readonly found: string;
  constructor(code: BadZip['code'], found: string) {
    super(`${code}: ${found}`);
    this.code = code;
    this.found = found;
  }
}

type Entry = { name: string; method: number; packed: number; unpacked: number; crc: number; at: number };

const END_SIGNATURE = 0x06054b50;
const ENTRY_SIGNATURE = 0x02014b50;
const LOCAL_SIGNATURE = 0x04034b50;
/** The end record and the longest comment behind it. */
const END_SEARCH = 22 + 65_535;

function endOfDirectory(view: DataView): number {
  const first = Math.max(0, view.byteLength - END_SEARCH);
  for (let at = view.byteLength - 22; at >= first; at--) if (view.getUint32(at, true) === END_SIGNATURE) return at;
  throw new BadZip('not-a-zip', 'no end of a zip directory');
}

/** Names that could leave the folder they are unpacked into, or hide what they are. */
function checkName(name: string, attributes: number): void {
  const parts = name.split(/[/\\]/);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a NUL in a name is exactly what must be caught
  const bad = name === '' || parts.includes('..') || /^[/\\]|^[a-z]:|\x00/i.test(name);
  const isLink = ((attributes >>> 16) & 0o170000) === 0o120000;
  if (bad || isLink) throw new BadZip('bad-name', name);
}

function directoryOf(bytes: Uint8Array, limits: ZipLimits): Entry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.byteLength < 22) throw new BadZip('not-a-zip', `${view.byteLength} bytes`);
  const end = endOfDirectory(view);
  const count = view.getUint16(end + 10, true);
  if (count > limits.entries) throw new BadZip('too-many-entries', String(count));
  const entries: Entry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let i = 0; i < count; i++) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== ENTRY_SIGNATURE)
      throw new BadZip('broken', `directory entry ${i + 1}`);
    const lengths = [28, 30, 32].map((offset) => view.getUint16(at + offset, true)) as [number, number, number];
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + lengths[0]));
    checkName(name, view.getUint32(at + 38, true));
    if ((view.getUint16(at + 8, true) & 1) === 1) throw new BadZip('encrypted', name);
    entries.push({
      name,
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      unpacked: view.getUint32(at + 24, true),
      at: view.getUint32(at + 42, true),
    });
    at += 46 + lengths[0] + lengths[1] + lengths[2];
  }
  // What the directory claims is checked before a byte is unpacked; what comes out is capped again below.
  const claimed = entries.reduce((sum, { unpacked }) => sum + unpacked, 0);
  if (claimed > limits.bytes) throw new BadZip('too-large', `${claimed} bytes`);
  return entries;
}

function unpack(bytes: Uint8Array, entry: Entry, most: number): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (entry.at + 30 > view.byteLength || view.getUint32(entry.at, true) !== LOCAL_SIGNATURE)
    throw new BadZip('broken', entry.name);
  const start = entry.at + 30 + view.getUint16(entry.at + 26, true) + view.getUint16(entry.at + 28, true);
  const packed = bytes.subarray(start, start + entry.packed);
  if (packed.byteLength !== entry.packed) throw new BadZip('broken', entry.name);
  let out: Uint8Array;
  try {
    // `maxOutputLength` stops a small entry that unpacks to very much.
    out = entry.method === 0 ? packed : inflateRawSync(packed, { maxOutputLength: Math.max(1, most) });
  } catch (error) {
    const large = (error as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE';
    throw new BadZip(large ? 'too-large' : 'broken', entry.name);
  }
  if (out.byteLength > most) throw new BadZip('too-large', entry.name);
  if (out.byteLength !== entry.unpacked || crc32(out) !== entry.crc) throw new BadZip('broken', entry.name);
  return new Uint8Array(out);
}

/**
 * Reads a zip from outside: its directory first, then each file with its size capped. Folders are left out.
 * Throws {@link BadZip} for more entries or bytes than `limits`, for names with `..`, a root, a drive, a NUL, for links,
 * encryption, and anything broken.
 * @see APPNOTE.TXT 6.3.10, the ZIP file format specification
 */
export function readZip(bytes: Uint8Array, limits: ZipLimits = usualZipLimits): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  let left = limits.bytes;
  for (const entry of directoryOf(bytes, limits)) {
    if (entry.name.endsWith('/')) continue;
    const file = unpack(bytes, entry, left);
    left -= file.byteLength;
    files.set(entry.name, file);
  }
  return files;
}
