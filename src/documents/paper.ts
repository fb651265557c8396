import type { Question } from '#questions/mechanism/question.ts';

/** A paper or file drawn from the answer of a question: a slip, a sheet, a calendar. */
export type Paper<I = unknown, F = unknown, A = unknown> = {
  name: string;
  /** Media type: application/pdf, text/calendar … */
  form: string;
  question: Question<I, F, A>;
  draw(answer: A): Promise<Uint8Array<ArrayBuffer>>;
  /** What to call the file, with its ending. */
  fileName(answer: A): string;
};

/** Declares a paper; only there to infer its types. */
export const paper = <I, F, A>(declared: Paper<I, F, A>): Paper<I, F, A> => declared;
