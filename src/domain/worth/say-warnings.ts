/** What a reader of breeding values has to know beside them, as sentences for the command line. */
import type { BreedingValues } from './breeding-values.ts';
import type { Connectedness } from './connectedness.ts';
import type { Model } from './model.ts';
import type { Records } from './records.ts';
import { sayReliabilityError } from './reliability-error.ts';

/** Fewer records than this: most of what is told comes from the model (our judgement). */
const FEW_RECORDS = 60;

type Evaluated = {
  values: Pick<BreedingValues, 'reliabilityError'>;
  joined: Connectedness;
  records: Pick<Records, 'count'>;
  model: Pick<Model, 'random'>;
};

const some = (names: readonly string[]): string =>
  names.length <= 3 ? names.join(', ') : `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;

/** Few records, colonies alone in their yard-year, yards without a family in common, approximate reliabilities; each with its advice. */
export function sayWarnings({ values, joined, records, model }: Evaluated): string[] {
  const { alone, sets } = joined;
  const out: string[] = [];
  if (records.count < FEW_RECORDS)
    out.push(`${records.count} records: most of this comes from the model; look at the reliabilities before the order`);
  if (alone.length > 0 && model.random === undefined)
    out.push(
      `${alone.length} of the yard-years hold one colony (${some(alone)}): such a record tells nothing; test at least 8 together, or take yard-years as random`,
    );
  if (sets.length > 1)
    out.push(
      `the yards fall into ${sets.length} sets without a family in common (${sets.slice(0, 3).map(some).join(' | ')}): do not compare queens across them; test daughters of one dam or one batch in both`,
    );
  if (values.reliabilityError !== null) out.push(sayReliabilityError(values.reliabilityError));
  return out;
}
