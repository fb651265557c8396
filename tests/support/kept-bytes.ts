import { Hono } from 'hono';
import { afterEach, beforeEach } from 'vitest';
import type { Ports } from '#ports/ports.ts';
import { databases, type Fresh } from './databases.ts';

type Route = { add: (app: Hono, ports: Pick<Ports, 'store'>) => void; under: string; form: string };

/** A route that gives kept bytes, over a fresh book for each test: `kept` keeps some under a hash of one letter and asks for them, `asked` only asks. */
export function keptBytesOver({ add, under, form }: Route) {
  let on: Fresh;
  let app: Hono;
  beforeEach(async () => {
    const fresh = databases[0]?.fresh;
    if (fresh === undefined) throw new Error('no database');
    on = await fresh();
    app = new Hono();
    add(app, on);
  });
  afterEach(() => on.end());
  const asked = async (hash: string) => app.request(`${under}/${hash}`);
  const kept = async (letter: string, bytes: Uint8Array) => {
    const hash = letter.repeat(64);
    await on.store.keepBytes(hash, form, bytes);
    return asked(hash);
  };
  return { asked, kept };
}
