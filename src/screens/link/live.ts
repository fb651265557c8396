import type { QueryClient } from '@tanstack/react-query';
import type { News } from '#ports/store.ts';
import { questions } from '#questions/registry.ts';
import { COMPUTED } from './computed.ts';

/** Asks again every question on the screen whose reads meet what an act touched. */
export function askAgain(client: QueryClient, news: News): void {
  const kinds = new Set<string>(news.touched.map(({ kind }) => kind));
  void client.invalidateQueries({
    predicate: ({ queryKey: [name] }) => {
      // What was worked out from facts that are part of its key stays as it is.
      if (name === COMPUTED) return false;
      const reads = questions.get(String(name))?.reads;
      return reads === undefined || reads === 'all' || reads.some((kind) => kinds.has(kind));
    },
  });
}

/**
 * Hears of acts done elsewhere. One stream a browser: pages of the same browser pass the news on among themselves,
 * because a browser stalls at the seventh stream to one host.
 */
export function listenForNews(client: QueryClient): () => void {
  const channel = new BroadcastChannel('combwright.news');
  let last = 0;
  const heard = (news: News) => {
    if (news.seq <= last) return;
    const fresh = last === 0 && news.touched.length === 0;
    last = news.seq;
    if (news.touched.length > 0) askAgain(client, news);
    else if (!fresh) void client.invalidateQueries();
  };
  channel.onmessage = ({ data }: MessageEvent<News>) => heard(data);
  const stop = new AbortController();
  const listen = async () => {
    const source = new EventSource('/api/events');
    source.onmessage = ({ data }: MessageEvent<string>) => {
      const news = JSON.parse(data) as News;
      heard(news);
      channel.postMessage(news);
    };
    await new Promise<void>((resolve) => stop.signal.addEventListener('abort', () => resolve()));
    source.close();
  };
  // Whoever holds the lock listens for all; when its page closes, the next takes over. Plain http has no locks.
  const holding =
    'locks' in navigator ? navigator.locks.request('combwright.news', { signal: stop.signal }, listen) : listen();
  holding.catch(() => {});
  return () => {
    stop.abort();
    channel.close();
  };
}
