import { createHash } from 'node:crypto';
import { Hono } from 'hono';
import { beforeEach, expect, test } from 'vitest';
import { portsOver } from '../../../tests/support/doing.ts';
import { guard } from '../guard.ts';
import { addPairing, door, type Entrance } from './door.ts';
import { type Pairing, pairingOf } from './pairing.ts';

const host = { host: '192.168.7.2:4173' };
const json = { ...host, 'content-type': 'application/json', origin: 'http://192.168.7.2:4173' };
let pairing: Pairing;
let outside: Hono;

function app(from: Entrance['from']): Hono {
  const made = new Hono();
  const entrance = { pairing, from, addresses: () => ['http://192.168.7.2:4173'] };
  made.use(guard(new Set([host.host])));
  if (from === 'network') made.use(door(entrance));
  for (const path of ['/api/ask/stock-book', '/api/events', '/api/export', '/api/safe-copy', '/', '/bench'])
    made.get(path, (c) => c.text('let through'));
  for (const path of ['/api/act/record-yard', '/api/restore', '/api/safe-copy'])
    made.post(path, (c) => c.text('let through'));
  addPairing(made, entrance);
  return made;
}

beforeEach(() => {
  const { clock, random } = portsOver(undefined as never);
  const hash = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
  pairing = pairingOf({ clock, random, hash, kept: { openUntil: null, devices: [] }, save: () => {} });
  pairing.open();
  outside = app('network');
});

const get = async (path: string, cookie = '') => (await outside.request(path, { headers: { ...host, cookie } })).status;
const post = (path: string, body: unknown, cookie = '') =>
  outside.request(path, { method: 'POST', headers: { ...json, cookie }, body: JSON.stringify(body) });

async function pair(): Promise<string> {
  const answer = await post('/api/pair', { code: pairing.newCode(1).code, name: 'Tablet' });
  expect(answer.status).toBe(200);
  const cookie = answer.headers.get('set-cookie') ?? '';
  expect(cookie).toMatch(/HttpOnly/);
  expect(cookie).toMatch(/SameSite=Strict/);
  expect(cookie).toMatch(/Max-Age=86400/);
  return cookie.split(';')[0] ?? '';
}

test('whoever comes by the network sees the empty pages and nothing of the book until paired', async () => {
  expect(await get('/')).toBe(200);
  expect(await get('/bench')).toBe(200);
  for (const path of ['/api/ask/stock-book', '/api/events', '/api/export', '/api/pairing'])
    expect(await get(path), path).toBe(401);
  expect((await post('/api/act/record-yard', {})).status).toBe(401);
  expect(await get('/api/ask/stock-book', 'combwright-device=0123.4567')).toBe(401);
});

test('a paired device asks and acts; it lets nobody in and neither carries the book away nor replaces it', async () => {
  const cookie = await pair();
  expect(await get('/api/ask/stock-book', cookie)).toBe(200);
  expect((await post('/api/act/record-yard', {}, cookie)).status).toBe(200);
  for (const path of ['/api/export', '/api/safe-copy', '/api/pairing']) expect(await get(path, cookie), path).toBe(403);
  for (const path of [
    '/api/restore',
    '/api/safe-copy',
    '/api/pairing/open',
    '/api/pairing/code',
    '/api/pairing/revoke',
  ])
    expect((await post(path, {}, cookie)).status, path).toBe(403);
  pairing.revoke(pairing.devices()[0]?.id ?? '');
  expect(await get('/api/ask/stock-book', cookie)).toBe(401);
});

test('a wrong code is refused in words; a name is needed', async () => {
  pairing.newCode(1);
  const wrong = await post('/api/pair', { code: 'AAAA-AAAA', name: 'Tablet' });
  expect(wrong.status).toBe(403);
  expect(((await wrong.json()) as { problems: { says: string }[] }).problems[0]?.says).toContain('code');
  expect((await post('/api/pair', { code: 'AAAA-AAAA', name: ' ' })).status).toBe(400);
  expect((await post('/api/pair', { code: 'AAAA-AAAA', name: 'x', more: 1 })).status).toBe(400);
});

test('at the machine itself the network is opened and closed, a code is shown, devices are listed and sent away', async () => {
  const cookie = await pair();
  const here = app('here');
  const at = async (path: string, body: unknown = {}) =>
    (await here.request(path, { method: 'POST', headers: json, body: JSON.stringify(body) })).json() as Promise<{
      openUntil: number | null;
      code: { code: string } | null;
      devices: { id: string; name: string }[];
    }>;
  const shown = await at('/api/pairing/code', { days: 14 });
  expect(shown.code?.code).toHaveLength(9);
  expect(shown.devices.map(({ name }) => name)).toEqual(['Tablet']);
  expect((await at('/api/pairing/revoke', { id: shown.devices[0]?.id })).devices).toEqual([]);
  expect(await get('/api/events', cookie)).toBe(401);
  expect(await at('/api/pairing/close')).toMatchObject({ openUntil: null, code: null });
  expect((await here.request('/api/pairing/code', { method: 'POST', headers: json, body: '{"days":1}' })).status).toBe(
    400,
  );
});
