import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { pairingOf } from '#server/pairing/pairing.ts';
import { certificateFrom, type Network, openNetwork, ownAddresses } from './network.ts';
import { machineClock, machineRandom } from './this-machine.ts';

const PORT = 45_731;
let network: Network | null = null;
let ended = 0;
const names = new Set<string>();
const pairing = () =>
  pairingOf({
    clock: machineClock,
    random: machineRandom,
    hash: (bytes) => String(bytes.length),
    kept: { openUntil: null, devices: [] },
    save: () => {},
  });
const fetchHere = () => new Response('inside');

beforeEach(() => {
  ended = 0;
});
afterEach(() => network?.stop());

const answers = (url: string) =>
  fetch(url).then(
    (response) => response.text(),
    () => 'nobody',
  );

test('nothing listens until it is opened; then only on the addresses named; closing ends streams and doors', async () => {
  const rules = pairing();
  const env = { COMBWRIGHT_ADDRESSES: '127.0.0.2' };
  const endStreams = () => void ended++;
  network = openNetwork({ pairing: rules, fetch: fetchHere, port: PORT, endStreams, names, env });
  expect(await answers(`http://127.0.0.2:${PORT}/`)).toBe('nobody');
  expect(network.urls()).toEqual([]);
  rules.open();
  await expect.poll(() => answers(`http://127.0.0.2:${PORT}/`)).toBe('inside');
  expect(network.urls()).toEqual([`http://127.0.0.2:${PORT}`]);
  expect([...names]).toContain(`127.0.0.2:${PORT}`);
  // Another address of this machine, not named: not open.
  expect(await answers(`http://127.0.0.3:${PORT}/`)).toBe('nobody');
  rules.close();
  await expect.poll(() => answers(`http://127.0.0.2:${PORT}/`)).toBe('nobody');
  expect(ended).toBe(2);
  expect(names.size).toBe(0);
});

test('addresses are those of the network cards, without the loopback, or those that are named', () => {
  expect(ownAddresses({ COMBWRIGHT_ADDRESSES: '10.0.0.2, 10.0.0.3' })).toEqual(['10.0.0.2', '10.0.0.3']);
  expect(ownAddresses({}).some((each) => each.startsWith('127.'))).toBe(false);
});

const canMakeCertificates = spawnSync('openssl', ['version'], { stdio: 'ignore' }).status === 0;

test.skipIf(!canMakeCertificates)(
  'with a certificate the second entrance is https, under the names it is for',
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'combwright-certificate-'));
    const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
    const subject = ['-subj', '/CN=bench.home.arpa', '-addext', 'subjectAltName=DNS:bench.home.arpa,IP:127.0.0.2'];
    const make = [
      'req',
      '-x509',
      '-newkey',
      'rsa:2048',
      '-nodes',
      '-days',
      '2',
      '-keyout',
      key,
      '-out',
      cert,
      ...subject,
    ];
    execFileSync('openssl', make, { stdio: 'ignore' });
    const env = { COMBWRIGHT_ADDRESSES: '127.0.0.2', COMBWRIGHT_CERTIFICATE: cert, COMBWRIGHT_KEY: key };
    expect(certificateFrom(env)?.names).toEqual(['bench.home.arpa', '127.0.0.2']);
    const rules = pairing();
    rules.open();
    network = openNetwork({ pairing: rules, fetch: fetchHere, port: PORT, endStreams: () => {}, names, env });
    await expect.poll(() => network?.urls()[0]).toBe(`https://bench.home.arpa:${PORT}`);
    const said = await new Promise<string>((resolve, reject) => {
      const asked = request(`https://127.0.0.2:${PORT}/`, { rejectUnauthorized: false }, (answer) => {
        let text = '';
        answer.on('data', (part) => {
          text += String(part);
        });
        answer.on('end', () => resolve(text));
      });
      asked.on('error', reject);
      asked.end();
    });
    expect(said).toBe('inside');
    expect([...names]).toContain(`bench.home.arpa:${PORT}`);
    rmSync(folder, { recursive: true, force: true });
  },
);
