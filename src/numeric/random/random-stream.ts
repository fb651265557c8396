/**
 * Seeded random numbers that give the same bits on every machine and engine: xoshiro128** (Blackman and Vigna 2021, ACM Trans Math
 * Softw 47:36, public domain), 32-bit words, period 2^128 − 1, seeded by a mixing function so that near seeds and the streams
 * of one seed have nothing in common. Only additions, multiplications,
 * divisions and square roots are used, never `Math.log`.
 */
import { naturalLog } from './natural-log.ts';

/** A stream of random numbers; every call moves it on. */
export type RandomStream = {
  /** 32 random bits, 0 … 2³²−1. */
  bits(): number;
  /** Uniform on [0, 1), 53 bits. */
  uniform(): number;
  /** A whole number 0 … n−1, each equally likely; n from 1 to 2³². */
  below(n: number): number;
  /** Standard normal. */
  normal(): number;
};

/** One step of a 32-bit mix of counter and key (finaliser of MurmurHash3, Appleby 2008, public domain). */
function mix(value: number): number {
  let h = value | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** Four words from a seed and a stream number, never all 0. */
function wordsOf(seed: number, stream: number): [number, number, number, number] {
  const low = seed >>> 0;
  const high = Math.floor(seed / 4294967296) >>> 0;
  const word = (k: number) => {
    const a = mix(Math.imul(k + 1, 0x9e3779b9) ^ low);
    const b = mix(a + Math.imul(high + 1, 0x7feb352d));
    return mix(b + Math.imul(stream + 1, 0x846ca68b) + k);
  };
  const words: [number, number, number, number] = [word(0), word(1), word(2), word(3)];
  if ((words[0] | words[1] | words[2] | words[3]) === 0) words[0] = 1;
  return words;
}

/**
 * The stream of a seed; `stream` numbers independent streams of the same seed (a replicate, a draw, a thread's share of the work).
 * @param seed a whole number 0 … 2⁵³−1
 * @param stream a whole number 0 … 2³²−1
 * @example randomStream(1).uniform() === randomStream(1).uniform() // true
 */
export function randomStream(seed: number, stream = 0): RandomStream {
  return randomFrom(wordsOf(seed, stream));
}

/**
 * A stream from its four state words, 32 bits each and not all 0 (for tests against published sequences).
 * @example randomFrom([1, 2, 3, 4]).bits() // 11520; first of xoshiro128** from its published code
 */
export function randomFrom(words: readonly [number, number, number, number]): RandomStream {
  let [s0, s1, s2, s3] = words;
  let spare = Number.NaN;
  const bits = (): number => {
    const scaled = Math.imul(s1, 5);
    const result = Math.imul((scaled << 7) | (scaled >>> 25), 9) >>> 0;
    const t = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = (s3 << 11) | (s3 >>> 21);
    return result;
  };
  const uniform = (): number => ((bits() >>> 5) * 67108864 + (bits() >>> 6)) / 9007199254740992;
  const below = (n: number): number => {
    const limit = 4294967296 - (4294967296 % n);
    for (;;) {
      const word = bits();
      if (word < limit) return word % n;
    }
  };
  /** Marsaglia and Bray 1964, SIAM Review 6:260 (polar method), the second of each pair kept. */
  const normal = (): number => {
    if (!Number.isNaN(spare)) {
      const value = spare;
      spare = Number.NaN;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const s = x * x + y * y;
      if (s >= 1 || s === 0) continue;
      const factor = Math.sqrt((-2 * naturalLog(s)) / s);
      spare = y * factor;
      return x * factor;
    }
  };
  return { bits, uniform, below, normal };
}
