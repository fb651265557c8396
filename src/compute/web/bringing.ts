import { unpack } from '../kept-run.ts';

/** What a worker fetches for itself instead of being sent it: the answer of a question, or what is kept packed under a hash. */
export type Source = { from: 'question' | 'kept'; path: string };
/** Sources by the field of the facts they become. Kept bytes that are lost become `null`. */
export type Brings = Readonly<Record<string, Source>>;

/** Thrown when there is no answer: the server is stopped or out of reach. */
export class Unreachable extends Error {
  override name = 'Unreachable';
}

type Fetch = (path: string) => Promise<Response>;

/** Sources a worker keeps, the ones used last: a stock, and two runs with their inputs. */
const MOST = 5;

async function brought({ from, path }: Source, get: Fetch): Promise<unknown> {
  const response = await get(path).catch(() => {
    throw new Unreachable(path);
  });
  if (from === 'kept') return response.ok ? unpack(new Uint8Array(await response.arrayBuffer())) : null;
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  return ((await response.json()) as { answer: unknown }).answer;
}

/**
 * Fetches what jobs bring, and keeps it as long as the worker lives. What is kept under a hash never changes; the answer of a question is fetched again
 * when a job asks for it fresh. What cannot be fetched is tried again by the next job.
 * @param get fetches a path of our own server
 */
export function bringing(get: Fetch): (brings: Brings, fresh?: boolean) => Promise<Record<string, unknown>> {
  const known = new Map<string, Promise<unknown>>();
  const one = (source: Source, fresh: boolean): Promise<unknown> => {
    const { from, path } = source;
    const held = fresh && from === 'question' ? undefined : known.get(path);
    const found = held ?? brought(source, get);
    known.delete(path);
    known.set(path, found);
    found.catch(() => known.delete(path));
    for (const oldest of known.keys()) if (known.size > MOST) known.delete(oldest);
    return found;
  };
  return async (brings, fresh = false) => {
    const fields = Object.entries(brings).map(async ([field, source]) => [field, await one(source, fresh)] as const);
    return Object.fromEntries(await Promise.all(fields));
  };
}
