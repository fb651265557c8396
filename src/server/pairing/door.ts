import type { Context, Hono, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { z } from 'zod';
import { type Problem, refuse } from '#units/problem.ts';
import { sayProblem } from '#words/say.ts';
import { readJson } from '../read-body.ts';
import type { Pairing } from './pairing.ts';

/** Where a request comes in: by the loopback of this machine, or by the local network. */
export type Entrance = {
  pairing: Pairing;
  from: 'here' | 'network';
  /** The addresses the network reaches this machine by, best first; empty while it is closed. */
  addresses: () => readonly string[];
};

const COOKIE = 'combwright-device';
/** What a device may ask before it is paired: whether anybody is there, whether it is paired, and to be paired. */
const BEFORE = new Set(['/api/health', '/api/pair', '/api/paired']);
/** What only the machine itself may do: let others in, and carry the whole book away or put another in its place. */
const ONLY_HERE = /^\/api\/(pairing|restore|safe-copy|export)\b/;

const says = (c: Context, problem: Problem, status: 400 | 401 | 403) =>
  c.json({ problems: [{ ...problem, says: sayProblem(problem) }] }, status);

/** Lets through, of what comes by the network, only paired devices, and only to what they may do. The empty pages are for everybody. */
export function door({ pairing }: Entrance): MiddlewareHandler {
  return async (c, next) => {
    const { path } = c.req;
    if (!path.startsWith('/api/') || BEFORE.has(path)) return next();
    if (pairing.deviceOf(getCookie(c, COOKIE)) === null) return says(c, refuse('', 'not-paired'), 401);
    return ONLY_HERE.test(path) ? says(c, refuse('', 'only-at-the-machine'), 403) : next();
  };
}

const asked = z.strictObject({ code: z.string().max(40), name: z.string().trim().min(1).max(60) });
const wanted = z.strictObject({ days: z.number().int().min(1).max(366) });
const named = z.strictObject({ id: z.string().max(40) });

async function bodyAs<T>(c: Context, shape: z.ZodType<T>): Promise<T | null> {
  const read = await readJson(c);
  const parsed = shape.safeParse('problems' in read ? null : read.value);
  return parsed.success ? parsed.data : null;
}

function addBeforePairing(app: Hono, { pairing, from }: Entrance): void {
  app.get('/api/paired', (c) => {
    const device = from === 'here' ? null : pairing.deviceOf(getCookie(c, COOKIE));
    return c.json({ here: from === 'here', device });
  });
  app.post('/api/pair', async (c) => {
    const body = await bodyAs(c, asked);
    if (body === null) return says(c, refuse('name', 'pair-name-needed'), 400);
    const done = pairing.pair(body.code, body.name);
    if (done === null) return says(c, refuse('code', 'pair-code-wrong'), 403);
    const isSecure = new URL(c.req.url).protocol === 'https:';
    const seconds = Math.floor((done.device.until - done.device.paired) / 1000);
    setCookie(c, COOKIE, done.key, {
      httpOnly: true,
      sameSite: 'Strict',
      secure: isSecure,
      path: '/',
      maxAge: seconds,
    });
    return c.json({ device: done.device });
  });
}

/** How the network stands, as the machine itself sees it. */
export type PairingSeen = {
  openUntil: number | null;
  addresses: readonly string[];
  code: { code: string; until: number; days: number } | null;
  devices: readonly { id: string; name: string; paired: number; until: number; seen: number | null }[];
};

function addAtTheMachine(app: Hono, { pairing, addresses }: Entrance): void {
  const seen = (): PairingSeen => {
    const code = pairing.code();
    return {
      openUntil: pairing.openUntil(),
      addresses: addresses(),
      code: code === null ? null : { code: code.code, until: code.until, days: code.days },
      devices: pairing.devices(),
    };
  };
  app.get('/api/pairing', (c) => c.json(seen()));
  app.post('/api/pairing/open', (c) => {
    pairing.open();
    return c.json(seen());
  });
  app.post('/api/pairing/close', (c) => {
    pairing.close();
    return c.json(seen());
  });
  app.post('/api/pairing/code', async (c) => {
    const body = await bodyAs(c, wanted);
    if (body === null || !pairing.isOpen()) return says(c, refuse('', 'network-closed'), 400);
    pairing.newCode(body.days);
    return c.json(seen());
  });
  app.post('/api/pairing/revoke', async (c) => {
    const body = await bodyAs(c, named);
    if (body !== null) pairing.revoke(body.id);
    return c.json(seen());
  });
}

/** The paths of pairing: a device is let in by the network; the rest is done at the machine itself. */
export function addPairing(app: Hono, entrance: Entrance): void {
  addBeforePairing(app, entrance);
  addAtTheMachine(app, entrance);
}
