import type { Ports } from '#ports/ports.ts';
import type { Refused } from '#ports/store.ts';
import { parse } from '#records/parse.ts';
import type { Answered, Question } from './question.ts';

/** Asks one question: reads its input, gathers in one snapshot, then answers outside of it. */
export async function ask<I, F, A>(
  question: Question<I, F, A>,
  input: unknown,
  ports: Pick<Ports, 'store' | 'compute'>,
): Promise<Answered<A> | Refused> {
  const read = parse(question.input, input);
  if ('problems' in read) return read;
  const gathered = await ports.store.read(question.reads, (facts) => question.gather(read.value, facts));
  return { answer: await question.answer(gathered.answer, read.value, ports.compute), seq: gathered.seq };
}
