import type { Compute } from '#ports/compute.ts';
import { stopped } from '../stopped.ts';
import { type Brings, Unreachable } from './bringing.ts';
import type { WebJob, WebReply } from './worker.ts';

type Options = NonNullable<Parameters<Compute['run']>[2]>;
/** `brings`: what the worker fetches for itself and adds to the facts by field; `fresh`: answers of questions among it are fetched again. */
export type WebOptions = Options & { brings?: Brings; fresh?: boolean };

const newWorker = () => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });

/** One job in a worker that has no other. */
function done(worker: Worker, job: WebJob, progress: Options['progress']): Promise<unknown> {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<WebReply>) => {
      if ('progress' in data) progress?.(...data.progress);
      else if ('failed' in data) reject(new Error(data.failed));
      else if ('unreachable' in data) reject(new Unreachable(data.unreachable));
      else resolve(data.answer);
    };
    worker.onerror = ({ message }) => reject(new Error(message));
    worker.postMessage(job);
  });
}

const stopOf = (signal: Options['signal']) =>
  new Promise<never>((_, reject) => {
    if (signal?.aborted) reject(stopped());
    signal?.addEventListener('abort', () => reject(stopped()));
  });

/** Computes in a Web Worker of its own, so that a page never waits; stopping ends the worker at once. */
export const computeInWorker = {
  run: async <A>(name: string, facts: unknown, { progress, signal, brings, fresh }: WebOptions = {}): Promise<A> => {
    const worker = newWorker();
    try {
      return (await Promise.race([done(worker, { name, facts, brings, fresh }, progress), stopOf(signal)])) as A;
    } finally {
      worker.terminate();
    }
  },
};

type Waiting = {
  job: WebJob;
  signal: Options['signal'];
  patient: boolean;
  settle: [(a: unknown) => void, (e: unknown) => void];
};
/** `patient`: waits until nothing else does. */
export type KeptOptions = Omit<WebOptions, 'progress'> & { patient?: boolean };

/**
 * One worker for many quick jobs, one after the other; what it fetched stays with it until it is ended. A job that is stopped before its turn is never
 * done; one under way is finished, and its answer dropped. Ended, it begins anew with the next job.
 */
export function keptWorker() {
  let worker: Worker | null = null;
  let waiting: Waiting[] = [];
  let under: Waiting | null = null;
  const next = async (): Promise<void> => {
    if (under !== null) return;
    waiting = waiting.filter(({ signal }) => !signal?.aborted);
    const mine = waiting.find(({ patient }) => !patient) ?? waiting[0];
    if (mine === undefined) return;
    under = mine;
    waiting = waiting.filter((one) => one !== mine);
    worker ??= newWorker();
    await done(worker, mine.job, undefined).then(...mine.settle);
    if (under !== mine) return;
    under = null;
    await next();
  };
  return {
    run: <A>(name: string, facts: unknown, { signal, patient = false, ...more }: KeptOptions = {}): Promise<A> => {
      const answer = new Promise<unknown>((...settle) => {
        waiting.push({ job: { name, facts, ...more }, signal, patient, settle });
        void next();
      });
      return Promise.race([answer, stopOf(signal)]) as Promise<A>;
    },
    end: (): void => {
      for (const { settle } of [...waiting, ...(under === null ? [] : [under])]) settle[1](stopped());
      worker?.terminate();
      [worker, waiting, under] = [null, [], null];
    },
  };
}
