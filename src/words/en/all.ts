import { bench } from './bench.ts';
import { crosses } from './crosses.ts';
import { edge } from './edge.ts';
import { importing } from './importing.ts';
import { kinds } from './kinds.ts';
import { problems } from './problems.ts';
import { raising } from './raising.ts';
import { rearing } from './rearing.ts';
import { scores } from './scores.ts';
import { season } from './season.ts';
import { semen } from './semen.ts';
import { stock } from './stock.ts';
import { today } from './today.ts';
import { worth } from './worth.ts';
import { yard } from './yard.ts';

/** Every English word of the product. English is the source: its keys are the list of what can be said. */
export const english = {
  ...bench,
  ...crosses,
  ...edge,
  ...importing,
  ...kinds,
  ...problems,
  ...raising,
  ...rearing,
  ...scores,
  ...season,
  ...semen,
  ...stock,
  ...today,
  ...worth,
  ...yard,
} as const;
export type WordId = keyof typeof english;
