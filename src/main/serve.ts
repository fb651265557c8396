import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { cpus } from 'node:os';
import { serve } from '@hono/node-server';
import { actions } from '#actions/registry.ts';
import { computeInThreads } from '#compute/node/threads.ts';
import { papers } from '#documents/registry.ts';
import type { Ports } from '#ports/ports.ts';
import { questions } from '#questions/registry.ts';
import { createApp } from '#server/app.ts';
import { loopbackNames } from '#server/guard.ts';
import { pairingOf } from '#server/pairing/pairing.ts';
import { assetsIn } from './assets.ts';
import { copiesOf } from './copies-of-server.ts';
import { dataFolder } from './data-folder.ts';
import { type Network, openNetwork } from './network.ts';
import { openBrowser } from './open-browser.ts';
import { openStore, whereFromEnvironment } from './open-store.ts';
import { pairedFile } from './paired-file.ts';
import { machineClock, machineRandom } from './this-machine.ts';

const FIRST_PORT = 4173;

/** Thrown when the asked-for port cannot be had. */
export class PortTaken extends Error {}

function listen(fetch: Parameters<typeof serve>[0]['fetch'], port: number): Promise<Server> {
  return new Promise((resolve, reject) => {
    const server = serve({ fetch, port, hostname: '127.0.0.1' }, () => resolve(server as Server));
    server.once('error', reject);
  });
}

function portFrom(env: NodeJS.ProcessEnv): number | null {
  if (!env.PORT) return null;
  const port = Number(env.PORT);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new PortTaken(`PORT is "${env.PORT}"; expected a number from 0 to 65535, or nothing.`);
  return port;
}

/** Tries the asked-for port, or the usual one and those after it. */
async function listenSomewhere(makeFetch: (port: number) => Parameters<typeof listen>[0]): Promise<[Server, number]> {
  const asked = portFrom(process.env);
  for (let port = asked ?? FIRST_PORT; ; port++) {
    try {
      let real = port;
      const server = await listen((...request) => makeFetch(real)(...request), port);
      const address = server.address();
      if (address !== null && typeof address === 'object') real = address.port;
      return [server, real];
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE' || (asked !== null && asked !== 0))
        throw new PortTaken(`Port ${port} is in use. Set PORT to another one, or leave it unset.`);
    }
  }
}

const version = (): string =>
  (JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as { version: string }).version;

/** Starts the server; gives its address and how to stop it. */
export async function startServer(): Promise<{ url: string; stop(): Promise<void> }> {
  const where = whereFromEnvironment();
  const store = await openStore(where);
  const threads = Math.max(1, cpus().length - 1);
  const compute = computeInThreads(new URL('./worker.js', import.meta.url), threads);
  const ports: Ports = { store, compute, clock: machineClock, random: machineRandom };
  const asset = assetsIn(new URL('../web', import.meta.url).pathname);
  const hash = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
  const copies = copiesOf(where, ports);
  const paired = pairedFile(dataFolder());
  const kept = paired.read();
  const pairing = pairingOf({ clock: machineClock, random: machineRandom, hash, kept, save: paired.write });
  let network: Network | null = null;
  const addresses = () => network?.urls() ?? [];
  let endOutside = () => {};
  const restored: typeof copies = {
    ...copies,
    // Devices on the network listen to the book that was: they hear of the restored one when they come back.
    restore: (bytes) => copies.restore(bytes).finally(() => endOutside()),
  };
  const common = { ports, actions, questions, papers, asset, version: version(), hash, copies: restored };
  let built: ReturnType<typeof createApp> | null = null;
  const appFor = (port: number) => {
    const entrance = { pairing, from: 'here' as const, addresses };
    built ??= createApp({ ...common, allowed: loopbackNames(port), entrance });
    return built.app.fetch;
  };
  const [server, port] = await listenSomewhere(appFor);
  const names = new Set<string>();
  const outside = createApp({ ...common, allowed: names, entrance: { pairing, from: 'network', addresses } });
  endOutside = outside.endStreams;
  network = openNetwork({ pairing, fetch: outside.app.fetch, port, endStreams: outside.endStreams, names });
  const url = `http://127.0.0.1:${port}`;
  return {
    url,
    async stop() {
      built?.endStreams();
      endOutside();
      network?.stop();
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeAllConnections();
      await closed;
      await ports.store.close();
    },
  };
}

/** The main job of `npm start`: serve until told to stop. */
export async function serveUntilStopped(): Promise<void> {
  const { url, stop } = await startServer();
  process.stdout.write(`Combwright is ready at ${url}\n`);
  openBrowser(url);
  const end = () => {
    const late = setTimeout(() => process.exit(1), 4_000);
    stop().then(
      () => {
        clearTimeout(late);
        process.exit(0);
      },
      () => process.exit(1),
    );
  };
  process.once('SIGINT', end);
  process.once('SIGTERM', end);
}
