/**
 * SHA-256 of a text (FIPS 180-4), where no platform's own may be used: the same 64 hexadecimal digits in Node, in a worker and in a browser.
 * @example sha256('abc') // 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
 */
import { encodeUtf8 } from '#units/utf8.ts';

/** First 32 bits of the fractional part of the n-th root of a prime (FIPS 180-4 § 4.2.2 and § 5.3.3 define the constants so). */
function rootBits(prime: number, root: (x: number) => number): number {
  const whole = root(prime);
  return ((whole - Math.floor(whole)) * 2 ** 32) | 0;
}

function primes(count: number): number[] {
  const out: number[] = [];
  for (let n = 2; out.length < count; n++) if (out.every((p) => n % p !== 0)) out.push(n);
  return out;
}

const FIRST = primes(64);
const ROUND = Int32Array.from(FIRST, (prime) => rootBits(prime, Math.cbrt));
const START = Int32Array.from(FIRST.slice(0, 8), (prime) => rootBits(prime, Math.sqrt));

const turn = (x: number, by: number): number => (x >>> by) | (x << (32 - by));

/** The message with its closing bit and length, a multiple of 64 bytes. */
function padded(bytes: Uint8Array): DataView {
  const size = Math.ceil((bytes.length + 9) / 64) * 64;
  const out = new Uint8Array(size);
  out.set(bytes);
  out[bytes.length] = 0x80;
  const view = new DataView(out.buffer);
  view.setUint32(size - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(size - 4, (bytes.length << 3) >>> 0);
  return view;
}

function schedule(view: DataView, at: number, w: Int32Array): void {
  for (let t = 0; t < 16; t++) w[t] = view.getInt32(at + 4 * t);
  for (let t = 16; t < 64; t++) {
    const a = w[t - 15] as number;
    const b = w[t - 2] as number;
    const low = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const high = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[t] = ((w[t - 16] as number) + low + (w[t - 7] as number) + high) | 0;
  }
}

/** One block of 64 bytes into the state; the names a … h are the standard's. */
function compress(state: Int32Array, w: Int32Array): void {
  let a = state[0] as number;
  let b = state[1] as number;
  let c = state[2] as number;
  let d = state[3] as number;
  let e = state[4] as number;
  let f = state[5] as number;
  let g = state[6] as number;
  let h = state[7] as number;
  for (let t = 0; t < 64; t++) {
    const mixed = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const chosen = (e & f) ^ (~e & g);
    const one = (h + mixed + chosen + (ROUND[t] as number) + (w[t] as number)) | 0;
    const other = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + one) | 0;
    d = c;
    c = b;
    b = a;
    a = (one + other) | 0;
  }
  state[0] = ((state[0] as number) + a) | 0;
  state[1] = ((state[1] as number) + b) | 0;
  state[2] = ((state[2] as number) + c) | 0;
  state[3] = ((state[3] as number) + d) | 0;
  state[4] = ((state[4] as number) + e) | 0;
  state[5] = ((state[5] as number) + f) | 0;
  state[6] = ((state[6] as number) + g) | 0;
  state[7] = ((state[7] as number) + h) | 0;
}

/**
 * The SHA-256 of a text's UTF-8 bytes as 64 hexadecimal digits, small letters. Time grows with the text, memory by a copy of it.
 * @example sha256('abc') // 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'; FIPS 180-4, example of one block
 */
export function sha256(text: string): string {
  const view = padded(encodeUtf8(text));
  const state = START.slice();
  const w = new Int32Array(64);
  for (let at = 0; at < view.byteLength; at += 64) {
    schedule(view, at, w);
    compress(state, w);
  }
  return Array.from(state, (value) => (value >>> 0).toString(16).padStart(8, '0')).join('');
}
