import type { Hono } from 'hono';
import type { Ports } from '#ports/ports.ts';
import { addKeptBytes } from './kept-bytes.ts';

const PACKED = {
  'Content-Type': 'application/octet-stream',
  'Content-Disposition': 'attachment; filename="run.json.gz"',
  'X-Content-Type-Options': 'nosniff',
};

/**
 * Gives what a run is kept with, packed as it is: whoever computes with it unpacks it. Only what its first bytes show to be packed (gzip, RFC 1952 § 2.3.1)
 * is given, and as bytes to be carried away, so an upload can never be opened as a page of ours.
 */
export const addKeptRuns = (app: Hono, ports: Pick<Ports, 'store'>): void =>
  addKeptBytes(app, ports, {
    under: '/api/kept-run',
    headersOf: (bytes) => (bytes[0] === 0x1f && bytes[1] === 0x8b ? PACKED : null),
  });
