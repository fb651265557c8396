import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { News, Store } from '#ports/store.ts';

/** A comment this often keeps the stream open through whatever sits in between, milliseconds. */
const HEARTBEAT = 15_000;

/** What changed, as it happens: one stream a browser. A browser that was away learns the newest number and asks again. */
export function events(c: Context, store: Store, streams: Set<() => void>): Response {
  return streamSSE(c, async (stream) => {
    let ended = () => {};
    const end = new Promise<void>((resolve) => {
      ended = resolve;
    });
    const send = (news: News) =>
      stream.writeSSE({ id: String(news.seq), data: JSON.stringify(news) }).catch(() => ended());
    const stopListening = store.listen((news) => void send(news));
    const beat = setInterval(() => void stream.write(': still here\n\n').catch(() => ended()), HEARTBEAT);
    stream.onAbort(ended);
    streams.add(ended);
    await send({ seq: await store.seq(), touched: [] });
    await end;
    streams.delete(ended);
    clearInterval(beat);
    stopListening();
  });
}
