/**
 * UTF-8 (RFC 3629) without `TextDecoder`, which pure code may not assume to exist.
 */

const PIECE = 4096;

/** Length 1-4 of the valid sequence that begins at `at`, or 0 when the bytes there are not UTF-8. */
function sequenceLength(bytes: Uint8Array, at: number, end: number): number {
  const first = bytes[at] ?? 0;
  if (first < 0x80) return 1;
  const second = at + 1 < end ? (bytes[at + 1] ?? 0) : 0;
  const tail = (offset: number) => at + offset < end && ((bytes[at + offset] ?? 0) & 0xc0) === 0x80;
  if (first >= 0xc2 && first <= 0xdf) return tail(1) ? 2 : 0;
  if (first >= 0xe0 && first <= 0xef) {
    if (!tail(1) || !tail(2)) return 0;
    return (first === 0xe0 && second < 0xa0) || (first === 0xed && second > 0x9f) ? 0 : 3;
  }
  if (first < 0xf0 || first > 0xf4 || !tail(1) || !tail(2) || !tail(3)) return 0;
  return (first === 0xf0 && second < 0x90) || (first === 0xf4 && second > 0x8f) ? 0 : 4;
}

function codePoint(bytes: Uint8Array, at: number, length: number): number {
  let point = (bytes[at] ?? 0) & (length === 2 ? 0x1f : length === 3 ? 0x0f : 0x07);
  for (let k = 1; k < length; k++) point = (point << 6) | ((bytes[at + k] ?? 0) & 0x3f);
  return point;
}

/**
 * The text of `bytes[start, end)`; a byte that is not UTF-8 becomes U+FFFD.
 * @example decodeUtf8(new Uint8Array([0xc3, 0xa9])) // 'é'
 */
export function decodeUtf8(bytes: Uint8Array, start = 0, end = bytes.length): string {
  let text = '';
  let units: number[] = [];
  for (let at = start; at < end; ) {
    const length = sequenceLength(bytes, at, end);
    if (length === 0) units.push(0xfffd);
    else if (length === 1) units.push(bytes[at] ?? 0);
    else pushPoint(units, codePoint(bytes, at, length));
    at += Math.max(1, length);
    if (units.length >= PIECE) {
      text += String.fromCharCode(...units);
      units = [];
    }
  }
  return text + String.fromCharCode(...units);
}

function pushPoint(units: number[], point: number): void {
  if (point < 0x10000) units.push(point);
  else units.push(0xd7c0 + (point >> 10), 0xdc00 + (point & 0x3ff));
}

/** Offset of the first byte that is not UTF-8, or -1 when all of it is. Blocks of plain ASCII are passed over whole. */
export function firstInvalidUtf8(bytes: Uint8Array): number {
  const n = bytes.length;
  let at = 0;
  while (at < n) {
    const stop = Math.min(n, at + 64);
    let seen = 0;
    for (let k = at; k < stop; k++) seen |= bytes[k] ?? 0;
    if (seen < 0x80) {
      at = stop;
      continue;
    }
    while (at < stop) {
      const length = sequenceLength(bytes, at, n);
      if (length === 0) return at;
      at += length;
    }
  }
  return -1;
}

/** The code point that begins at a code unit; a lone surrogate as U+FFFD. */
function pointAt(text: string, at: number): number {
  const point = text.codePointAt(at) ?? 0;
  return point >= 0xd800 && point <= 0xdfff ? 0xfffd : point;
}

/**
 * UTF-8 bytes of a text; a lone surrogate becomes U+FFFD.
 * @example encodeUtf8('é') // 0xc3, 0xa9
 */
export function encodeUtf8(text: string): Uint8Array {
  const out = new Uint8Array(text.length * 3);
  let at = 0;
  for (let k = 0; k < text.length; k++) {
    const unit = text.charCodeAt(k);
    if (unit < 0x80) {
      out[at++] = unit;
      continue;
    }
    const point = pointAt(text, k);
    if (point < 0x800) out[at++] = 0xc0 | (point >> 6);
    else {
      if (point < 0x10000) out[at++] = 0xe0 | (point >> 12);
      else {
        out[at++] = 0xf0 | (point >> 18);
        out[at++] = 0x80 | ((point >> 12) & 0x3f);
        k++;
      }
      out[at++] = 0x80 | ((point >> 6) & 0x3f);
    }
    out[at++] = 0x80 | (point & 0x3f);
  }
  return out.slice(0, at);
}
