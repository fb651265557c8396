import { expect, test } from 'vitest';
import { keptBytesOver } from '../../tests/support/kept-bytes.ts';
import { addPhotos } from './photos.ts';

const { asked, kept } = keptBytesOver({ add: addPhotos, under: '/api/photo', form: 'image/svg+xml' });

test('a kept picture is given as what its first bytes are, whatever was said of it', async () => {
  const answer = await kept('a', Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 1, 2]));
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('image/jpeg');
});

test('anything else that was uploaded is never given back: not a drawing, not a page, not a spreadsheet', async () => {
  for (const [name, text] of [
    ['b', '<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>'],
    ['c', '<!doctype html><script>alert(1)</script>'],
    ['d', 'Queen;Mother\nA;B\n'],
  ] as const)
    expect((await kept(name, new TextEncoder().encode(text))).status, text).toBe(404);
  expect((await asked('0'.repeat(64))).status).toBe(404);
  expect((await asked('..%2F..%2Fetc%2Fpasswd')).status).toBe(404);
});
