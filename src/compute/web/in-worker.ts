import type { Compute } from '#ports/compute.ts';
import type { Job, Reply } from '../computations.ts';
import { stopped } from '../stopped.ts';

type Options = NonNullable<Parameters<Compute['run']>[2]>;

function inOneWorker(job: Job, { progress, signal }: Options): Promise<unknown> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    const end = (settle: () => void) => {
      settle();
      worker.terminate();
    };
    signal?.addEventListener('abort', () => end(() => reject(stopped())));
    worker.onmessage = ({ data }: MessageEvent<Reply>) => {
      if ('progress' in data) progress?.(...data.progress);
      else if ('failed' in data) end(() => reject(new Error(data.failed)));
      else end(() => resolve(data.answer));
    };
    worker.onerror = ({ message }) => end(() => reject(new Error(message)));
    worker.postMessage(job);
  });
}

/** Computes in a Web Worker of its own, so that a page never waits; stopping ends the worker at once. */
export const computeInWorker: Compute = {
  run: async <A>(name: string, facts: unknown, options: Options = {}) =>
    (await inOneWorker({ name, facts }, options)) as A,
};
