import { type UseQueryResult, useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { computeInWorker } from '#compute/web/in-worker.ts';

/** Works something out in a worker of this browser and keeps the answer; leaving the page ends the work. `facts` null: not yet. */
export function useComputed<A>(name: string, key: readonly unknown[], facts: unknown): UseQueryResult<A> {
  return useQuery({
    queryKey: ['computed', name, ...key],
    queryFn: ({ signal }) => computeInWorker.run<A>(name, facts, { signal }),
    enabled: facts !== null,
    staleTime: Number.POSITIVE_INFINITY,
    retry: false,
  });
}

/** Work asked for by a press: how far it is, and how it is stopped. `run` gives `null` when it was stopped. */
export function useWork(): {
  run: <A>(name: string, facts: unknown) => Promise<A | null>;
  stop: () => void;
  progress: readonly [number, number] | null;
} {
  const [progress, setProgress] = useState<readonly [number, number] | null>(null);
  const working = useRef<AbortController | null>(null);
  useEffect(() => () => working.current?.abort(), []);
  const run = async <A>(name: string, facts: unknown): Promise<A | null> => {
    const controller = new AbortController();
    working.current = controller;
    setProgress([0, 1]);
    try {
      const progressed = (done: number, whole: number) => setProgress([done, whole]);
      return await computeInWorker.run<A>(name, facts, { signal: controller.signal, progress: progressed });
    } catch (error) {
      if ((error as Error).name === 'AbortError') return null;
      throw error;
    } finally {
      setProgress(null);
    }
  };
  return { run, stop: () => working.current?.abort(), progress };
}
