import { X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { createServer as createSecure } from 'node:https';
import { hostname, networkInterfaces } from 'node:os';
import { serve } from '@hono/node-server';
import type { Pairing } from '#server/pairing/pairing.ts';

type Fetch = Parameters<typeof serve>[0]['fetch'];
type Environment = Readonly<Record<string, string | undefined>>;

/** Looks this often whether the machine has other addresses now, and whether a time has ended, milliseconds. */
const LOOK = 5_000;

/** The addresses of this machine on its networks (IPv4), or those COMBWRIGHT_ADDRESSES names. */
export function ownAddresses(env: Environment = process.env): string[] {
  if (env.COMBWRIGHT_ADDRESSES) return env.COMBWRIGHT_ADDRESSES.split(',').map((each) => each.trim());
  return Object.values(networkInterfaces())
    .flatMap((cards) => cards ?? [])
    .filter(({ family, internal, address }) => family === 'IPv4' && !internal && !address.startsWith('169.254.'))
    .map(({ address }) => address);
}

type Certificate = { cert: Buffer; key: Buffer; names: string[] };

/** The certificate COMBWRIGHT_CERTIFICATE and COMBWRIGHT_KEY name (PEM files), with the names it is for; `null` without one. */
export function certificateFrom(env: Environment = process.env): Certificate | null {
  if (!env.COMBWRIGHT_CERTIFICATE || !env.COMBWRIGHT_KEY) return null;
  const cert = readFileSync(env.COMBWRIGHT_CERTIFICATE);
  const key = readFileSync(env.COMBWRIGHT_KEY);
  const told = new X509Certificate(cert).subjectAltName ?? '';
  const names = told.split(', ').flatMap((each) => /^(?:DNS|IP Address):(.+)$/.exec(each)?.[1] ?? []);
  return { cert, key, names };
}

function listen(fetch: Fetch, at: { port: number; hostname: string }, tls: Certificate | null): Promise<Server> {
  const secure = tls === null ? {} : { createServer: createSecure, serverOptions: { cert: tls.cert, key: tls.key } };
  return new Promise((resolve, reject) => {
    const server = serve({ fetch, ...at, ...secure } as Parameters<typeof serve>[0], () => resolve(server as Server));
    server.once('error', reject);
  });
}

export type Network = {
  /** The addresses it answers at, as a person types them, best first. */
  urls(): string[];
  /** host:port names it answers to; the same set all the time, filled and emptied. */
  names: ReadonlySet<string>;
  stop(): void;
};

type NetworkNeeds = {
  pairing: Pairing;
  fetch: Fetch;
  port: number;
  /** Ends what is open, when a device was sent away or the network was closed. */
  endStreams: () => void;
  names: Set<string>;
  env?: Environment;
};

/**
 * Listens on each address of the local network, at the port of the machine's own pages, only while somebody has opened it. Never on every
 * address at once: what is not a card of this machine is not listened on.
 */
export function openNetwork({ pairing, fetch, port, endStreams, names, env = process.env }: NetworkNeeds): Network {
  const certificate = certificateFrom(env);
  const doors = new Map<string, Server>();
  let busy = Promise.resolve();
  const nameAll = () => {
    names.clear();
    if (doors.size === 0) return;
    const all = [...doors.keys(), hostname(), `${hostname()}.local`, ...(certificate?.names ?? [])];
    for (const each of all) names.add(`${each.toLowerCase()}:${port}`);
  };
  const shut = (address: string, server: Server) => {
    doors.delete(address);
    server.close();
    server.closeAllConnections();
  };
  async function look(): Promise<void> {
    const wanted = pairing.isOpen() ? ownAddresses(env) : [];
    for (const [address, server] of doors) if (!wanted.includes(address)) shut(address, server);
    for (const address of wanted) {
      if (doors.has(address)) continue;
      // A card that went away in between, or a port another program has there, closes this door only.
      const server = await listen(fetch, { port, hostname: address }, certificate).catch(() => null);
      if (server !== null) doors.set(address, server);
    }
    nameAll();
  }
  const lookInTurn = () => {
    busy = busy.then(look);
  };
  const heard = () => {
    endStreams();
    lookInTurn();
  };
  const stopListening = pairing.listen(heard);
  const timer = setInterval(() => {
    pairing.tick();
    lookInTurn();
  }, LOOK);
  timer.unref();
  lookInTurn();
  return {
    names,
    urls: () => {
      const scheme = certificate === null ? 'http' : 'https';
      const best = certificate === null ? [] : certificate.names;
      return doors.size === 0
        ? []
        : [...new Set([...best, ...doors.keys()])].map((each) => `${scheme}://${each}:${port}`);
    },
    stop() {
      clearInterval(timer);
      stopListening();
      for (const [address, server] of doors) shut(address, server);
    },
  };
}
