import type { z } from 'zod';
import type { Compute } from '#ports/compute.ts';
import type { Facts, Journal, KeptBytes, Reads } from '#ports/store.ts';

/** One thing a person can ask. `gather` reads facts, `answer` works them out; both give plain data. */
export type Question<I = unknown, F = unknown, A = unknown> = {
  name: string;
  /** One sentence for the interface description and the command line. */
  what: string;
  input: z.ZodType<I>;
  /** The kinds it reads: a screen asks again when an act touches one of them. */
  reads: Reads;
  gather(input: I, facts: Facts & Journal & KeptBytes): Promise<F>;
  answer(gathered: F, input: I, compute: Compute): A | Promise<A>;
};

/** Declares a question; only there to infer its types. */
export const question = <I, F, A>(declared: Question<I, F, A>): Question<I, F, A> => declared;

/** An answer and the number of the last act it has seen. */
export type Answered<A = unknown> = { answer: A; seq: number };
