import type { TableProblem } from '#domain/stock-book/table.ts';
import { firstInvalidUtf8 } from '#units/utf8.ts';

/** The encodings a text may be said to be in, where the guess is wrong. */
export const encodings = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252', 'windows-1250'] as const;
export type Encoding = (typeof encodings)[number];

export type Decoded = { encoding: Encoding; utf8: Uint8Array };

const SAMPLE = 4_096;
/** Bytes Windows-1252 gives no letter. */
const NOT_IN_1252 = [0x81, 0x8d, 0x8f, 0x90, 0x9d];

const problem = (code: TableProblem['code'], row: number | null, found: string): TableProblem => ({
  code,
  row,
  values: { found },
});

function byMark(bytes: Uint8Array): Encoding | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return 'utf-8';
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  return bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : null;
}

/** UTF-16 without a mark: every other byte of ordinary text is zero. */
function utf16WithoutMark(bytes: Uint8Array): Encoding | null {
  const sample = bytes.subarray(0, SAMPLE);
  let even = 0;
  let odd = 0;
  for (let at = 0; at < sample.length; at++) if (sample[at] === 0) at % 2 === 0 ? even++ : odd++;
  const half = sample.length / 2;
  if (odd > 0.6 * half && even < 0.1 * half) return 'utf-16le';
  return even > 0.6 * half && odd < 0.1 * half ? 'utf-16be' : null;
}

function rowOf(bytes: Uint8Array, offset: number): number {
  let row = 1;
  for (let at = 0; at < offset; at++) if (bytes[at] === 0x0a) row++;
  return row;
}

/** True for bytes no text holds: what is written by a program for itself. */
function isBinary(bytes: Uint8Array): boolean {
  for (const byte of bytes.subarray(0, SAMPLE)) if (byte < 0x09 || (byte > 0x0d && byte < 0x1b)) return true;
  return false;
}

/** Letters beyond ASCII that are valid UTF-8, and those that are not, counted in a sample around the first wrong one. */
function letters(bytes: Uint8Array, around: number): { valid: number; invalid: number } {
  const from = Math.max(0, around - 50_000);
  const text = new TextDecoder('utf-8').decode(bytes.subarray(from, around + 50_000));
  const invalid = text.split('\uFFFD').length - 1;
  const valid = [...text].filter((letter) => letter > '\u007f' && letter !== '\uFFFD').length;
  return { valid, invalid };
}

function guess(bytes: Uint8Array): Encoding | TableProblem {
  const told = byMark(bytes) ?? utf16WithoutMark(bytes);
  if (told !== null && told !== 'utf-8') return told;
  const wrong = firstInvalidUtf8(bytes);
  if (isBinary(bytes)) return problem('not-a-table', null, `byte ${bytes[0] ?? 0}`);
  if (wrong < 0) return 'utf-8';
  const { valid, invalid } = letters(bytes, wrong);
  // A text in one encoding is wrong everywhere; one with many right letters was put together from two.
  if (told === 'utf-8' || valid > invalid)
    return problem('encoding-mixed', rowOf(bytes, wrong), `byte ${bytes[wrong] ?? 0}`);
  const undefinedByte = bytes.findIndex((byte) => NOT_IN_1252.includes(byte));
  if (undefinedByte < 0) return 'windows-1252';
  return problem('encoding-unknown', rowOf(bytes, undefinedByte), `byte ${bytes[undefinedByte] ?? 0}`);
}

/**
 * A text's bytes as UTF-8. The encoding is the one said, else told by its mark, by UTF-16's zero bytes, by being valid UTF-8, and
 * last Windows-1252 (the habit of older spreadsheets); what cannot be any of these is named with its row.
 */
export function decodeText(bytes: Uint8Array, said?: Encoding): Decoded | TableProblem {
  const encoding = said ?? guess(bytes);
  if (typeof encoding !== 'string') return encoding;
  if (encoding === 'utf-8' && said === undefined) return { encoding, utf8: bytes };
  return { encoding, utf8: new TextEncoder().encode(new TextDecoder(encoding).decode(bytes)) };
}
