import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { BadZip, readZip } from './read-zip.ts';

const text = (words: string) => new TextEncoder().encode(words);
const codeOf = (bytes: Uint8Array, limits?: { entries: number; bytes: number }): string => {
  try {
    readZip(bytes, limits);
    return 'read';
  } catch (error) {
    if (error instanceof BadZip) return error.code;
    throw error;
  }
};

/** Changes one name inside a zip to another of the same length. */
function renamed(zip: Uint8Array, from: string, to: string): Uint8Array {
  const bytes = Buffer.from(zip);
  for (let at = bytes.indexOf(from); at >= 0; at = bytes.indexOf(from, at + 1)) bytes.write(to, at);
  return new Uint8Array(bytes);
}

test('reads what another program zipped', () => {
  const zip = zipSync({
    'a/b.csv': text('x,y\n1,2\n'),
    'empty.txt': new Uint8Array(0),
    'stored.bin': [text('s'), { level: 0 }],
  });
  const files = readZip(zip);
  expect([...files.keys()].sort()).toEqual(['a/b.csv', 'empty.txt', 'stored.bin']);
  expect(new TextDecoder().decode(files.get('a/b.csv'))).toBe('x,y\n1,2\n');
});

test('refuses names that leave the folder, links, encryption and broken files', () => {
  const zip = zipSync({ 'aaaaaaaa.csv': text('x') });
  for (const name of ['../aaaaa.csv', '/aaaaaaa.csv', 'C:\\aaaaa.csv', 'aaaaaaa\0.csv', 'a/../aaa.csv'])
    expect(codeOf(renamed(zip, 'aaaaaaaa.csv', name)), name).toBe('bad-name');
  const link = zipSync({ link: [text('/etc/passwd'), { os: 3, attrs: 0o120777 << 16 }] });
  expect(codeOf(link)).toBe('bad-name');
  const locked = Buffer.from(zip);
  const entry = locked.indexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]));
  locked.writeUInt16LE(locked.readUInt16LE(entry + 8) | 1, entry + 8);
  expect(codeOf(new Uint8Array(locked))).toBe('encrypted');
  expect(codeOf(text('this is no zip, only some words'))).toBe('not-a-zip');
  expect(codeOf(zip.subarray(0, zip.length - 30))).toBe('not-a-zip');
  const flipped = Buffer.from(zipSync({ 'a.csv': [text('hello hello'), { level: 0 }] }));
  flipped[flipped.indexOf('hello')] = 0x4a;
  expect(codeOf(new Uint8Array(flipped))).toBe('broken');
});

test('a bomb is stopped, whether it tells its size or lies about it', () => {
  const bomb = zipSync({ 'zeros.bin': [new Uint8Array(30_000_000), { level: 9 }] });
  expect(bomb.length).toBeLessThan(100_000);
  expect(codeOf(bomb, { entries: 10, bytes: 1_000_000 })).toBe('too-large');
  const lying = Buffer.from(bomb);
  const entry = lying.indexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]));
  lying.writeUInt32LE(10, entry + 24);
  expect(codeOf(new Uint8Array(lying), { entries: 10, bytes: 1_000_000 })).toBe('too-large');
});

test('too many entries are refused before any is read', () => {
  const many = zipSync(Object.fromEntries(Array.from({ length: 2_001 }, (_, i) => [`f${i}`, new Uint8Array(0)])));
  expect(codeOf(many)).toBe('too-many-entries');
});
