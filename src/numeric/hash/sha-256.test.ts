import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { sha256 } from './sha-256.ts';

// Source: FIPS 180-4 examples ("abc" and the 448-bit message), and Node's own SHA-256 for lengths around a block.
test('SHA-256 of the standard and of every length around a block', () => {
  expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  expect(sha256('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq')).toBe(
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  );
  for (let n = 0; n < 200; n++) {
    const text = 'aé'.repeat(n).slice(0, n);
    expect(sha256(text)).toBe(createHash('sha256').update(text).digest('hex'));
  }
});
