import type { Hono } from 'hono';
import type { Ports } from '#ports/ports.ts';

/** Gives kept bytes by content hash, which never change: as what `headersOf` says their first bytes show; those it knows nothing of are not given. */
export function addKeptBytes(
  app: Hono,
  { store }: Pick<Ports, 'store'>,
  { under, headersOf }: { under: string; headersOf: (bytes: Uint8Array) => Readonly<Record<string, string>> | null },
): void {
  app.get(`${under}/:hash`, async (c) => {
    const kept = await store.bytes(c.req.param('hash'));
    const headers = kept === null ? null : headersOf(kept.bytes);
    if (kept === null || headers === null) return c.json({ problems: [] }, 404);
    const lasting = { 'Cache-Control': 'private, max-age=31536000, immutable' };
    return new Response(new Uint8Array(kept.bytes), { headers: { ...headers, ...lasting } });
  });
}
