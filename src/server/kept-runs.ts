import type { Hono } from 'hono';
import type { Ports } from '#ports/ports.ts';

/**
 * Gives what a run is kept with by content hash, packed as it is: whoever computes with it unpacks it. Only what its first bytes show to be packed
 * (gzip, RFC 1952 § 2.3.1) is given, and as bytes to be carried away, so an upload can never be opened as a page of ours.
 */
export function addKeptRuns(app: Hono, { store }: Pick<Ports, 'store'>): void {
  app.get('/api/kept-run/:hash', async (c) => {
    const kept = await store.bytes(c.req.param('hash'));
    if (kept?.bytes[0] !== 0x1f || kept.bytes[1] !== 0x8b) return c.json({ problems: [] }, 404);
    return new Response(new Uint8Array(kept.bytes), {
      headers: {
        'Content-Type': 'application/octet-stream',
        'Content-Disposition': 'attachment; filename="run.json.gz"',
        'X-Content-Type-Options': 'nosniff',
        'Cache-Control': 'private, max-age=31536000, immutable',
      },
    });
  });
}
