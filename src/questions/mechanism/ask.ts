import type { Compute, Stop } from '#ports/compute.ts';
import type { Ports } from '#ports/ports.ts';
import type { Refused } from '#ports/store.ts';
import { parse } from '#records/parse.ts';
import type { Answered, Question } from './question.ts';

/** The same place to compute in, whose work ends when `signal` fires. */
const until = (signal: Stop, compute: Compute): Compute => ({
  run: (name, facts, options) => compute.run(name, facts, { signal, ...options }),
});

/**
 * Asks one question: reads its input, gathers in one snapshot, then answers outside of it. Rejects with an `AbortError` when `signal` fires while something
 * is computed for it.
 */
export async function ask<I, F, A>(
  question: Question<I, F, A>,
  input: unknown,
  ports: Pick<Ports, 'store' | 'compute'>,
  signal?: Stop,
): Promise<Answered<A> | Refused> {
  const read = parse(question.input, input);
  if ('problems' in read) return read;
  const gathered = await ports.store.read(question.reads, (facts) => question.gather(read.value, facts));
  const compute = signal === undefined ? ports.compute : until(signal, ports.compute);
  return { answer: await question.answer(gathered.answer, read.value, compute), seq: gathered.seq };
}
