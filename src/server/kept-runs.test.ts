import { gunzipSync, gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { keptBytesOver } from '../../tests/support/kept-bytes.ts';
import { addKeptRuns } from './kept-runs.ts';

const { asked, kept } = keptBytesOver({ add: addKeptRuns, under: '/api/kept-run', form: 'application/octet-stream' });

test('what a run is kept with is given packed as it is, to be carried away', async () => {
  const answer = await kept('a', gzipSync('{"seed":1}'));
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('application/octet-stream');
  expect(answer.headers.get('content-disposition')).toMatch(/^attachment/);
  expect(gunzipSync(new Uint8Array(await answer.arrayBuffer())).toString()).toBe('{"seed":1}');
});

test('anything that is not packed, or not there, is not given', async () => {
  expect((await kept('b', new TextEncoder().encode('<!doctype html><script>alert(1)</script>'))).status).toBe(404);
  expect((await asked('0'.repeat(64))).status).toBe(404);
});
