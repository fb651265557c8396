import type { Hono } from 'hono';
import type { Ports } from '#ports/ports.ts';
import { photoForm } from '#records/photo-form.ts';
import { addKeptBytes } from './kept-bytes.ts';

/** Gives kept pictures: only what its first bytes show to be a picture, as exactly that, so an upload can never be opened as a page of ours. */
export const addPhotos = (app: Hono, ports: Pick<Ports, 'store'>): void =>
  addKeptBytes(app, ports, {
    under: '/api/photo',
    headersOf: (bytes) => {
      const form = photoForm(bytes);
      return form === null ? null : { 'Content-Type': form };
    },
  });
