/**
 * The compiled kernels: decoded from text, compiled once, instantiated over a memory of the size asked for. Where WebAssembly with vector
 * instructions is missing or forbidden, `null`; callers then use the plain twins.
 */
import { kernelsText } from './kernels.wasm.ts';

/** What the compiled module exports; pointers in bytes, leading dimensions (`lda` …) in doubles. */
export type KernelExports = {
  bufferBytes(): number;
  layOut(at: number): void;
  product(m: number, n: number, k: number, scale: number, ...strided: readonly number[]): void;
  subtractSymmetric(m: number, n: number, k: number, a: number, lda: number, c: number, ldc: number): void;
  solveRight(m: number, n: number, l: number, ldl: number, b: number, ldb: number): void;
  solveRightPlain(m: number, n: number, l: number, ldl: number, b: number, ldb: number): void;
  factor(n: number, a: number, lda: number, least: number, dependent: number): number;
  invertFactor(n: number, l: number, ldl: number, out: number, ldo: number): void;
  scatterAdd(m: number, n: number, a: number, c: number, ldc: number, rows: number, columns: number): void;
  gather(m: number, n: number, a: number, c: number, ldc: number, rows: number, columns: number): void;
  scatterOuter(
    m: number,
    n: number,
    k: number,
    a: number,
    lda: number,
    c: number,
    ldc: number,
    rows: number,
    columns: number,
  ): void;
  describe(table: number): void;
  multiply(x: number, out: number): void;
  precondition(r: number, z: number): void;
  dot(a: number, b: number, n: number): number;
  addScaled(a: number, b: number, scale: number, n: number): void;
  turn(p: number, z: number, beta: number, n: number): void;
  step(x: number, p: number, r: number, q: number, alpha: number, n: number): number;
};

type Memory = { readonly buffer: ArrayBuffer; grow(pages: number): number };
/** The few names of the WebAssembly interface used here; not in the language's own library, so asked for at run time. */
type Interface = {
  Module: new (bytes: Uint8Array) => object;
  Instance: new (module: object, imports: object) => { readonly exports: object };
  Memory: new (size: { initial: number; maximum: number }) => Memory;
};

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/**
 * Bytes of a padded base64 text without line ends (RFC 4648 § 4), without `atob`, which an empty VM lacks. Other characters count as `A`.
 * @example decodeBase64('YWJj') // [97, 98, 99]
 */
export function decodeBase64(text: string): Uint8Array {
  const padding = text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0;
  const out = new Uint8Array((text.length / 4) * 3 - padding);
  const codes = new Uint8Array(128);
  for (let k = 0; k < ALPHABET.length; k++) codes[ALPHABET.charCodeAt(k)] = k;
  for (let i = 0, at = 0; i < text.length; i += 4) {
    let word = 0;
    for (let k = 0; k < 4; k++) word = (word << 6) | (codes[text.charCodeAt(i + k)] as number);
    for (let shift = 16; shift >= 0 && at < out.length; shift -= 8) out[at++] = (word >> shift) & 0xff;
  }
  return out;
}

/** `undefined` until tried; `null` when there is no WebAssembly here. */
let compiled: object | null | undefined;

function moduleHere(): { wasm: Interface; module: object } | null {
  const wasm = (globalThis as unknown as { WebAssembly?: Interface }).WebAssembly;
  if (wasm === undefined || compiled === null) return null;
  try {
    compiled ??= new wasm.Module(decodeBase64(kernelsText));
  } catch {
    compiled = null;
    return null;
  }
  return { wasm, module: compiled };
}

const PAGE = 65536;
const MOST_PAGES = 65536;

/** A running module: its functions, the heap of doubles callers fill, and the byte of its memory at which that heap begins. */
export type Machine = { exports: KernelExports; heap: Float64Array; base: number };

/**
 * The kernels over a heap of `doubles`; `null` when there is no WebAssembly, or not that much memory for it (4 GiB at most).
 * `base` is the byte at which the heap begins.
 * @example startMachine(4)?.heap // [0, 0, 0, 0]
 */
export function startMachine(doubles: number): Machine | null {
  const here = moduleHere();
  if (here === null) return null;
  try {
    const first = new here.wasm.Memory({ initial: 1, maximum: MOST_PAGES });
    const probe = new here.wasm.Instance(here.module, { env: { memory: first, abort } }).exports as KernelExports;
    const base = PAGE + Math.ceil(probe.bufferBytes() / 16) * 16;
    const pages = Math.ceil((base + doubles * 8) / PAGE);
    if (pages > MOST_PAGES) return null;
    const memory = new here.wasm.Memory({ initial: pages, maximum: MOST_PAGES });
    const exports = new here.wasm.Instance(here.module, { env: { memory, abort } }).exports as KernelExports;
    exports.layOut(PAGE);
    return { exports, heap: new Float64Array(memory.buffer, base, doubles), base };
  } catch {
    return null;
  }
}

function abort(): never {
  throw new Error('a compiled kernel stopped');
}
