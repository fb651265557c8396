import { Hono } from 'hono';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { databases, type Fresh } from '../../tests/support/databases.ts';
import { addPhotos } from './photos.ts';

let on: Fresh;
let app: Hono;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
  app = new Hono();
  addPhotos(app, on);
});
afterEach(() => on.end());

const kept = async (name: string, bytes: Uint8Array) => {
  const hash = name.repeat(64).slice(0, 64);
  await on.store.keepBytes(hash, 'image/svg+xml', bytes);
  return app.request(`/api/photo/${hash}`);
};

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
  expect((await app.request(`/api/photo/${'0'.repeat(64)}`)).status).toBe(404);
  expect((await app.request('/api/photo/..%2F..%2Fetc%2Fpasswd')).status).toBe(404);
});
