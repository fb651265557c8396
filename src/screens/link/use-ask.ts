import { keepPreviousData, type UseQueryResult, useQuery } from '@tanstack/react-query';
import type { Answered, Question } from '#questions/mechanism/question.ts';
import { getJson, withInput } from './server.ts';

/**
 * Asks a question and keeps its answer fresh: it is asked again when an act touches a kind it reads, on this device or
 * another. `data` stays the last answer while a new one comes. Leaving the page ends what is computed for it.
 */
export function useAsk<I, F, A>(question: Question<I, F, A>, input: I, enabled = true): UseQueryResult<A> {
  return useQuery({
    queryKey: [question.name, input],
    queryFn: async ({ signal }) => {
      const path = withInput(`/api/ask/${question.name}`, input);
      const { answer, seq } = await getJson<Answered<A>>(path, signal);
      noteSeen(seq);
      return answer;
    },
    placeholderData: keepPreviousData,
    enabled,
  });
}

let newest = 0;
/** The number of the newest act this page has seen; an act carries it, so that a crossing change is noticed. */
export const seen = (): number => newest;
export function noteSeen(seq: number): void {
  if (seq > newest) newest = seq;
}
