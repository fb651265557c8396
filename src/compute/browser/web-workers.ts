import type { Compute } from '#ports/compute.ts';
import type { Job, Reply } from '../computations.ts';
import { stopped } from '../stopped.ts';

/** What is used of a Web Worker. */
export type WorkerLike = {
  onmessage: ((event: { data: Reply }) => void) | null;
  onerror: ((event: { message: string }) => void) | null;
  postMessage(job: Job): void;
  terminate(): void;
};

/**
 * Computes in a Web Worker of its own for each piece of work; stopping ends the worker.
 * @param start makes one: `() => new Worker(url, { type: 'module' })`
 */
export const computeInWebWorkers = (start: () => WorkerLike): Compute => ({
  run: <A>(name: string, facts: unknown, { progress, signal }: Parameters<Compute['run']>[2] = {}) =>
    new Promise<A>((resolve, reject) => {
      if (signal?.aborted) {
        reject(stopped());
        return;
      }
      const worker = start();
      const end = (settle: () => void) => {
        worker.terminate();
        settle();
      };
      signal?.addEventListener('abort', () => end(() => reject(stopped())));
      worker.onmessage = ({ data }) => {
        if ('progress' in data) progress?.(...data.progress);
        else if ('failed' in data) end(() => reject(new Error(data.failed)));
        else end(() => resolve(data.answer as A));
      };
      worker.onerror = ({ message }) => end(() => reject(new Error(message)));
      worker.postMessage({ name, facts });
    }),
});
