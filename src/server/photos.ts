import type { Hono } from 'hono';
import type { Ports } from '#ports/ports.ts';
import { photoForm } from '#records/photo-form.ts';

/**
 * Gives kept pictures by content hash: only what its first bytes show to be a picture is given, as exactly that, so an upload can
 * never be opened as a page of ours.
 */
export function addPhotos(app: Hono, { store }: Pick<Ports, 'store'>): void {
  app.get('/api/photo/:hash', async (c) => {
    const kept = await store.bytes(c.req.param('hash'));
    const form = kept === null ? null : photoForm(kept.bytes);
    if (kept === null || form === null) return c.json({ problems: [] }, 404);
    const headers = { 'Content-Type': form, 'Cache-Control': 'private, max-age=31536000, immutable' };
    return new Response(new Uint8Array(kept.bytes), { headers });
  });
}
