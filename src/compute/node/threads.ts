import { Worker } from 'node:worker_threads';
import type { Compute } from '#ports/compute.ts';
import type { Job, Reply } from '../computations.ts';
import { stopped } from '../stopped.ts';

type Options = NonNullable<Parameters<Compute['run']>[2]>;

function inOneThread(file: URL, job: Job, { progress, signal }: Options): Promise<unknown> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(file);
    const end = (settle: () => void) => {
      settle();
      void worker.terminate();
    };
    signal?.addEventListener('abort', () => end(() => reject(stopped())));
    worker.on('message', (reply: Reply) => {
      if ('progress' in reply) progress?.(...reply.progress);
      else if ('failed' in reply) end(() => reject(new Error(reply.failed)));
      else end(() => resolve(reply.answer));
    });
    worker.on('error', (error) => end(() => reject(error)));
    worker.postMessage(job);
  });
}

/**
 * Computes in worker threads, at most `most` at once; others wait their turn. Stopping ends the thread.
 * @param file the built worker
 */
export function computeInThreads(file: URL, most: number): Compute {
  let running = 0;
  const waiting: (() => void)[] = [];
  const next = () => {
    if (running < most) waiting.shift()?.();
  };
  /** Resolves when a thread is free; rejects at once when the work is stopped while it waits. */
  const turn = (signal: Options['signal']) =>
    new Promise<void>((resolve, reject) => {
      const begin = () => {
        running++;
        resolve();
      };
      if (signal?.aborted) return reject(stopped());
      if (running < most) return begin();
      waiting.push(begin);
      signal?.addEventListener('abort', () => {
        const at = waiting.indexOf(begin);
        if (at >= 0) waiting.splice(at, 1);
        reject(stopped());
      });
    });
  return {
    async run<A>(name: string, facts: unknown, options: Options = {}) {
      await turn(options.signal);
      try {
        if (options.signal?.aborted) throw stopped();
        return (await inOneThread(file, { name, facts }, options)) as A;
      } finally {
        running--;
        next();
      }
    },
  };
}
