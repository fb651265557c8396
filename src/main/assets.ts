import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';
import type { Asset } from '#server/app.ts';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
};

/**
 * The built pages, read once. A path that names no file and has no ending is a page of the product and gets the start
 * page. Only files that were there at the start are ever served: no path of a request reaches the disk.
 */
export function assetsIn(folder: string): (path: string) => Asset | null {
  const files = new Map<string, Asset>();
  const entries = existsSync(folder) ? readdirSync(folder, { recursive: true, withFileTypes: true }) : [];
  for (const entry of entries.filter((each) => each.isFile())) {
    const file = join(entry.parentPath, entry.name);
    const path = `/${relative(folder, file).split(sep).join('/')}`;
    const type = types[extname(file)] ?? 'application/octet-stream';
    files.set(path, { bytes: new Uint8Array(readFileSync(file)), type, lasting: path.startsWith('/assets/') });
  }
  return (path) => files.get(path) ?? (extname(path) === '' ? (files.get('/index.html') ?? null) : null);
}
