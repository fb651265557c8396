import type { Book } from '#ports/store.ts';
import { type Problem, refuse } from '#units/problem.ts';

/** The setting that says the made-up stock stands. */
export const SAMPLE = 'sample';

/** Refuses to bring a breeder's own book in while the made-up stock stands: it would go when that is taken away. */
export const sampleStands = async (book: Book): Promise<Problem[]> =>
  (await book.count('setting', { name: SAMPLE })) > 0 ? [refuse('', 'sample-stands')] : [];
