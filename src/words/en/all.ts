import { edge } from './edge.ts';
import { kinds } from './kinds.ts';
import { problems } from './problems.ts';
import { rearing } from './rearing.ts';

/** Every English word of the product. English is the source: its keys are the list of what can be said. */
export const english = { ...edge, ...kinds, ...problems, ...rearing } as const;
export type WordId = keyof typeof english;
