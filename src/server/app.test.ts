import { createHash } from 'node:crypto';
import type { Hono } from 'hono';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { actions } from '#actions/registry.ts';
import { papers } from '#documents/registry.ts';
import { questions } from '#questions/registry.ts';
import { databases, type Fresh } from '../../tests/support/databases.ts';
import { newId, portsOver } from '../../tests/support/doing.ts';
import { createApp } from './app.ts';
import { loopbackNames } from './guard.ts';
import { pairingOf } from './pairing/pairing.ts';

let on: Fresh;
let app: Hono;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
  const none = async () => new Uint8Array();
  const ports = portsOver(on.store);
  const hash = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
  const kept = { openUntil: null, devices: [] };
  const pairing = pairingOf({ clock: ports.clock, random: ports.random, hash, kept, save: () => {} });
  const made = createApp({
    ports,
    actions,
    questions,
    papers,
    allowed: loopbackNames(4173),
    asset: (path) =>
      !path.includes('.') || path === '/index.html'
        ? { bytes: new TextEncoder().encode('<p>page</p>'), type: 'text/html', lasting: false }
        : null,
    version: '0',
    hash,
    entrance: { pairing, from: 'here', addresses: () => [] },
    copies: {
      last: () => null,
      make: async () => {},
      download: none,
      export: none,
      restore: async () => ({ refused: 'not here' }),
    },
  });
  app = made.app;
});
afterEach(() => on.end());

const host = { host: '127.0.0.1:4173' };
const json = { ...host, 'content-type': 'application/json' };
const post = (path: string, body: unknown, headers: Record<string, string> = json) =>
  app.request(path, { method: 'POST', headers, body: typeof body === 'string' ? body : JSON.stringify(body) });

test('names other than this machine’s are answered 421: no page elsewhere can have its name pointed here', async () => {
  for (const foreign of ['evil.example', '127.0.0.1:4174', '127.0.0.1', 'localhost.evil.example:4173', ''])
    expect((await app.request('/api/health', { headers: { host: foreign } })).status, foreign).toBe(421);
  for (const own of ['127.0.0.1:4173', 'localhost:4173', '[::1]:4173', 'LOCALHOST:4173'])
    expect((await app.request('/api/health', { headers: { host: own } })).status, own).toBe(200);
});

test('writes need our own or no origin, same-origin or no fetch site, and JSON or bytes', async () => {
  const yard = { input: { name: 'Home' } };
  const write = async (more: Record<string, string>) =>
    (await post('/api/act/record-yard', yard, { ...json, ...more })).status;
  expect(await write({ origin: 'http://evil.example' })).toBe(403);
  expect(await write({ origin: 'null' })).toBe(403);
  expect(await write({ origin: 'file://' })).toBe(403);
  expect(await write({ 'sec-fetch-site': 'cross-site' })).toBe(403);
  expect(await write({ 'sec-fetch-site': 'same-site' })).toBe(403);
  expect(await write({ 'sec-fetch-site': 'none' })).toBe(403);
  for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data', 'application/jsonx'])
    expect(await write({ 'content-type': type }), type).toBe(415);
  expect(await on.store.seq()).toBe(0);
  expect(await write({ origin: 'http://127.0.0.1:4173', 'sec-fetch-site': 'same-origin' })).toBe(200);
  expect(await write({})).toBe(200);
});

test('a cross-site GET of the interface is refused; a link from elsewhere to a page is not', async () => {
  const from = (site: string) => ({ headers: { ...host, 'sec-fetch-site': site } });
  expect((await app.request('/api/ask/history', from('cross-site'))).status).toBe(403);
  expect((await app.request('/today', from('cross-site'))).status).toBe(200);
  expect((await app.request('/api/ask/history', from('same-origin'))).status).toBe(200);
});

test('every answer carries the security headers and none lets another origin read', async () => {
  for (const path of ['/today', '/api/health', '/api/nothing', '/api/ask/history']) {
    const { headers } = await app.request(path, { headers: host });
    expect(headers.get('content-security-policy')).toBe(
      "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'",
    );
    expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
    expect(headers.get('cross-origin-embedder-policy')).toBe('require-corp');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('strict-transport-security')).toBeNull();
    expect(headers.get('access-control-allow-origin')).toBeNull();
  }
});

test('wrong input names place, what and what to do, and changes nothing', async () => {
  const problemsOf = async (response: Response) =>
    ((await response.json()) as { problems: { path: string; code: string; says: string }[] }).problems;
  const broken = await post('/api/act/record-yard', '{"input": {');
  expect(broken.status).toBe(400);
  expect(await problemsOf(broken)).toMatchObject([{ code: 'bad-json', says: expect.stringContaining('JSON') }]);
  const shape = await post('/api/act/record-queen', {
    input: { queen: { emerged: '2027-06-31', colour: 3 } },
    more: 1,
  });
  expect(shape.status).toBe(400);
  expect((await problemsOf(shape)).map(({ path, code }) => `${path} ${code}`)).toContain(' unknown-field');
  const day = await post('/api/act/record-queen', { input: { queen: { emerged: '2027-06-31', colour: 3 } } });
  expect((await problemsOf(day)).map(({ path, code }) => `${path} ${code}`).sort()).toEqual([
    'queen unknown-field',
    'queen.emerged not-a-day',
  ]);
  const nobody = await post('/api/act/mark-queen', { input: { queen: newId(), disc: 3 } });
  expect(nobody.status).toBe(404);
  expect(await problemsOf(nobody)).toMatchObject([{ path: 'queen', code: 'unknown-record' }]);
  const negative = await post('/api/act/record-score', { input: { trait: 'honey', value: 'much', day: '2027-01-01' } });
  expect(negative.status).toBe(400);
  expect((await app.request('/api/ask/history?input={', { headers: host })).status).toBe(400);
  expect((await app.request('/api/nothing', { headers: host })).status).toBe(404);
  expect(await on.store.seq()).toBe(0);
});

test('an act with an id is done once however often it is sent', async () => {
  const act = { id: newId(), input: { name: 'Home' }, done: '2027-06-12T08:00:00+02:00[Europe/Berlin]' };
  const first = await (await post('/api/act/record-yard', act)).json();
  const again = await (await post('/api/act/record-yard', act)).json();
  expect(first).toMatchObject({ seq: 1, again: false });
  expect(again).toMatchObject({ seq: 1, again: true, result: (first as { result: object }).result });
  expect((await post('/api/act/record-yard', { ...act, input: { name: 'Other' } })).status).toBe(409);
});

test('a list of acts is done in order, never stopping at one: what cannot be done is parked', async () => {
  const ids = [newId(), newId(), newId()];
  const acts = [
    { id: ids[0], name: 'record-yard', input: { name: 'A' } },
    { id: ids[1], name: 'mark-queen', input: { queen: newId(), disc: 1 } },
    { id: ids[2], name: 'record-yard', input: { name: 'B' } },
  ];
  const said = (await (await post('/api/acts', acts)).json()) as { outcome: string }[];
  expect(said.map(({ outcome }) => outcome)).toEqual(['applied', 'parked', 'applied']);
  expect(await on.store.parked()).toMatchObject([{ act: { id: ids[1] }, problems: [{ code: 'unknown-record' }] }]);
  const again = (await (await post('/api/acts', acts)).json()) as { outcome: string }[];
  expect(again.map(({ outcome }) => outcome)).toEqual(['again', 'parked', 'again']);
});

test('an upload is kept by its hash; more than 200 MB is refused by its length and while it comes', async () => {
  const bytes = { ...host, 'content-type': 'application/octet-stream' };
  const kept = await app.request('/api/upload', { method: 'POST', headers: bytes, body: 'abc' });
  expect(await kept.json()).toEqual({
    // SHA-256 of "abc": FIPS 180-2, appendix B.1
    hash: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    size: 3,
  });
  const long = { ...bytes, 'content-length': '200000001' };
  expect((await app.request('/api/upload', { method: 'POST', headers: long, body: 'abc' })).status).toBe(413);
  let sent = 0;
  const endless = new ReadableStream<Uint8Array>({
    pull(controller) {
      sent += 1_000_000;
      controller.enqueue(new Uint8Array(1_000_000));
    },
  });
  const init = { method: 'POST', headers: bytes, body: endless, duplex: 'half' } as RequestInit;
  expect((await app.request('/api/upload', init)).status).toBe(413);
  expect(sent).toBeLessThan(210_000_000);
}, 30_000);

test('HTTP never takes a path on the server', async () => {
  for (const path of ['/../package.json', '/%2e%2e/package.json', '/assets/../../package.json', '/etc/passwd.txt'])
    expect((await app.request(path, { headers: host })).status, path).toBeOneOf([404, 200]);
  const text = await (await app.request('/%2e%2e/package.json', { headers: host })).text();
  expect(text).not.toContain('dependencies');
});
