import { gunzipSync, gzipSync } from 'node:zlib';
import { Hono } from 'hono';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { databases, type Fresh } from '../../tests/support/databases.ts';
import { addKeptRuns } from './kept-runs.ts';

let on: Fresh;
let app: Hono;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
  app = new Hono();
  addKeptRuns(app, on);
});
afterEach(() => on.end());

const kept = async (name: string, bytes: Uint8Array) => {
  const hash = name.repeat(64);
  await on.store.keepBytes(hash, 'application/octet-stream', bytes);
  return app.request(`/api/kept-run/${hash}`);
};

test('what a run is kept with is given packed as it is, to be carried away', async () => {
  const answer = await kept('a', gzipSync('{"seed":1}'));
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('application/octet-stream');
  expect(answer.headers.get('content-disposition')).toMatch(/^attachment/);
  expect(gunzipSync(new Uint8Array(await answer.arrayBuffer())).toString()).toBe('{"seed":1}');
});

test('anything that is not packed, or not there, is not given', async () => {
  expect((await kept('b', new TextEncoder().encode('<!doctype html><script>alert(1)</script>'))).status).toBe(404);
  expect((await app.request(`/api/kept-run/${'0'.repeat(64)}`)).status).toBe(404);
});
