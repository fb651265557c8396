import type { Context } from 'hono';
import { type Problem, refuse } from '#units/problem.ts';

/** Largest JSON body, bytes. */
const MOST_JSON = 20_000_000;
/** Largest upload, bytes: 200 MB. */
export const MOST_UPLOAD = 200_000_000;

type Read<T> = { value: T } | { problems: Problem[] };

/** Reads a body of at most `most` bytes; stops reading as soon as there are more. */
export async function readBytes(c: Context, most: number): Promise<Read<Uint8Array>> {
  const tooLarge = { problems: [refuse('', 'too-large', { most })] };
  if (Number(c.req.header('content-length') ?? 0) > most) return tooLarge;
  const stream = c.req.raw.body;
  if (stream === null) return { value: new Uint8Array(0) };
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of stream as unknown as AsyncIterable<Uint8Array>) {
    size += part.byteLength;
    if (size > most) return tooLarge;
    parts.push(part);
  }
  return { value: new Uint8Array(Buffer.concat(parts)) };
}

/** Reads a JSON body. */
export async function readJson(c: Context): Promise<Read<unknown>> {
  const read = await readBytes(c, MOST_JSON);
  if ('problems' in read) return read;
  try {
    return { value: JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(read.value)) as unknown };
  } catch {
    return { problems: [refuse('', 'bad-json')] };
  }
}
