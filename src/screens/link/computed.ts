import { keepPreviousData, type UseQueryResult, useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { type Brings, Unreachable } from '#compute/web/bringing.ts';
import { computeInWorker, type KeptOptions, keptWorker, type WebOptions } from '#compute/web/in-worker.ts';
import type { Question } from '#questions/mechanism/question.ts';
import { say } from '#words/say.ts';
import { tell } from '../parts/told.tsx';
import { OutOfReach, withInput } from './server.ts';

/** First word of the key of everything that is worked out from facts that are part of its key. */
export const COMPUTED = 'computed';

/** The answer of a question, fetched by the worker that needs it. */
export const answerOf = <I>({ name }: Question<I>, input: I): Brings[string] => ({
  from: 'question',
  path: withInput(`/api/ask/${name}`, input),
});
/** What a run is kept with, fetched and unpacked by the worker that needs it. */
export const keptUnder = (hash: string): Brings[string] => ({ from: 'kept', path: `/api/kept-run/${hash}` });

const inWords = (error: unknown): never => {
  throw error instanceof Unreachable ? new OutOfReach(error.message) : error;
};

const lasting = { staleTime: Number.POSITIVE_INFINITY, retry: false, structuralSharing: false } as const;

/** Works something out in a worker of this browser and keeps the answer; leaving the page ends the work. `facts` null: not yet. */
export function useComputed<A>(
  name: string,
  key: readonly unknown[],
  facts: unknown,
  options: Pick<WebOptions, 'brings'> = {},
): UseQueryResult<A> {
  return useQuery({
    queryKey: [COMPUTED, name, ...key],
    queryFn: ({ signal }) => computeInWorker.run<A>(name, facts, { ...options, signal }).catch(inWords),
    enabled: facts !== null,
    ...lasting,
  });
}

/** The worker that holds what a page looks at from many sides. */
const desk = keptWorker();

/** Ends what the worker of this page holds when the page is left. */
export const useDeskWhileHere = (): void => useEffect(() => desk.end, []);

/** Asks the worker that holds what it fetched; the last answer stays while a new one comes. `facts` null: not yet. */
export function useDesk<A>(
  name: string,
  key: readonly unknown[],
  facts: unknown,
  options: Omit<KeptOptions, 'signal'>,
): UseQueryResult<A> {
  return useQuery({
    queryKey: [COMPUTED, name, ...key],
    queryFn: ({ signal }) => desk.run<A>(name, facts, { ...options, signal }).catch(inWords),
    enabled: facts !== null,
    placeholderData: keepPreviousData,
    ...lasting,
  });
}

/** A question whose answer stays with the worker; `name` tells what the page needs of it. Asked again when an act touches a kind the question reads. */
export function useDeskQuestion<A, I>(question: Question<I>, input: I, { name, as }: { name: string; as: string }) {
  return useQuery({
    queryKey: [question.name, name, input],
    queryFn: ({ signal }) =>
      desk.run<A>(name, {}, { brings: { [as]: answerOf(question, input) }, fresh: true, signal }).catch(inWords),
    placeholderData: keepPreviousData,
  });
}

/** Work asked for by a press: how far it is, and how it is stopped. `run` gives `null` when it was stopped, or when the server is out of reach, which is told. */
export function useWork(): {
  run: <A>(name: string, facts: unknown, options?: Pick<WebOptions, 'brings'>) => Promise<A | null>;
  stop: () => void;
  isStopped: () => boolean;
  progress: readonly [number, number] | null;
} {
  const [progress, setProgress] = useState<readonly [number, number] | null>(null);
  const working = useRef<AbortController | null>(null);
  useEffect(() => () => working.current?.abort(), []);
  const run = async <A>(name: string, facts: unknown, options: Pick<WebOptions, 'brings'> = {}): Promise<A | null> => {
    const controller = new AbortController();
    working.current = controller;
    setProgress([0, 1]);
    try {
      const progressed = (done: number, whole: number) => setProgress([done, whole]);
      return await computeInWorker.run<A>(name, facts, {
        ...options,
        signal: controller.signal,
        progress: progressed,
      });
    } catch (error) {
      if (error instanceof Unreachable) tell(say('edge.out-of-reach'));
      else if ((error as Error).name !== 'AbortError') throw error;
      return null;
    } finally {
      setProgress(null);
    }
  };
  const isStopped = () => working.current?.signal.aborted ?? false;
  return { run, stop: () => working.current?.abort(), isStopped, progress };
}
