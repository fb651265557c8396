import type { Context, MiddlewareHandler, Next } from 'hono';

const policy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' blob: data:",
  "object-src 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "form-action 'self'",
].join('; ');

/** Sent with everything. No HSTS: this is plain http on a laptop, and such a header would outlive it. */
const headers: Record<string, string> = {
  'Content-Security-Policy': policy,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
};

const problem = (code: string, path: string) => ({ problems: [{ path, code, values: {}, weight: 'refuse' }] });
const isRead = (method: string) => method === 'GET' || method === 'HEAD';
const bodies = /^application\/(json|octet-stream)\s*(;|$)/i;

function isOwnOrigin(origin: string, allowed: ReadonlySet<string>): boolean {
  try {
    const { protocol, host } = new URL(origin);
    return protocol.startsWith('http') && allowed.has(host);
  } catch {
    return false;
  }
}

function refusal(c: Context, allowed: ReadonlySet<string>): Response | null {
  const site = c.req.header('sec-fetch-site');
  // Names other than ours mean a page elsewhere had its name pointed at this machine.
  if (!allowed.has((c.req.header('host') ?? '').toLowerCase())) return c.json(problem('foreign-host', 'host'), 421);
  if (isRead(c.req.method)) {
    const foreign = site === 'cross-site' || site === 'same-site';
    return foreign && c.req.path.startsWith('/api') ? c.json(problem('foreign-origin', 'origin'), 403) : null;
  }
  const origin = c.req.header('origin');
  // A program (curl, our command line) sends neither header; a browser always sends at least one with a write.
  if (origin !== undefined && !isOwnOrigin(origin, allowed)) return c.json(problem('foreign-origin', 'origin'), 403);
  if (site !== undefined && site !== 'same-origin') return c.json(problem('foreign-origin', 'origin'), 403);
  if (!bodies.test(c.req.header('content-type') ?? '')) return c.json(problem('not-json', 'content-type'), 415);
  return null;
}

/**
 * Lets through only what comes from this machine's own page or from a program on it: known host names, own or absent
 * origin, JSON or bytes. Sends the security headers with every answer.
 * @param allowed host:port names this server answers to, lower case
 */
export function guard(allowed: ReadonlySet<string>): MiddlewareHandler {
  return async (c: Context, next: Next) => {
    const refused = refusal(c, allowed);
    if (refused === null) await next();
    else c.res = refused;
    for (const [name, value] of Object.entries(headers)) c.res.headers.set(name, value);
  };
}

/** The names a server on a loopback port answers to. */
export const loopbackNames = (port: number): ReadonlySet<string> =>
  new Set(['127.0.0.1', 'localhost', '[::1]'].map((name) => `${name}:${port}`));
