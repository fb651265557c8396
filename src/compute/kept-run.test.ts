import { gunzipSync, gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { pack, unpack } from './kept-run.ts';

const data = {
  queens: Array.from({ length: 2_000 }, (_, i) => ({
    id: `q${i}`,
    worth: Math.sin(i) / 3,
    words: i % 7 ? null : 'Žužek \u{1f41d}',
  })),
};

// Reference: zlib, as Node has it.
test('what is packed is read by zlib, and what zlib packed is read here, to the last bit', () => {
  expect(JSON.parse(gunzipSync(pack(data)).toString('utf8'))).toEqual(data);
  expect(unpack(gzipSync(JSON.stringify(data)))).toEqual(data);
  expect(unpack(pack(data))).toEqual(data);
  expect(pack(data).length).toBeLessThan(JSON.stringify(data).length / 2);
});

// RFC 1952 § 2.3.1: two bytes that name the format, the method (8: deflate), flags, and in bytes 4 to 7 a time; all 0: none.
test('equal data give equal bytes whenever they are packed: the header holds no time and no name', () => {
  expect([...pack(data).subarray(0, 8)]).toEqual([0x1f, 0x8b, 8, 0, 0, 0, 0, 0]);
  expect(pack(structuredClone(data))).toEqual(pack(data));
});

test('bytes that were cut short, or were never packed, are not read as something else', () => {
  expect(() => unpack(pack(data).subarray(0, 500))).toThrow();
  expect(() => unpack(new TextEncoder().encode('{"queens":[]}'))).toThrow();
});
