/** What a reader of breeding values has to know beside them, as sentences for the command line. */
import type { BreedingValues } from './breeding-values.ts';
import type { Connectedness } from './connectedness.ts';
import { MODEL_KEYS } from './files/read-model.ts';
import type { EarlyRecord } from './files/read-records.ts';
import type { Model } from './model.ts';
import type { Records } from './records.ts';
import { sayReliabilityError } from './reliability-error.ts';
import { traitsAllAlike } from './traits-all-alike.ts';

/** Fewer records than this: most of what is told comes from the model (our judgement). */
const FEW_RECORDS = 60;

/** Ten times the residual asked for. */
const SOLVED = 1e-9;

type Evaluated = {
  values: Pick<BreedingValues, 'reliabilityError' | 'residual'>;
  joined: Connectedness;
  records: Records;
  model: Pick<Model, 'random' | 'traits'>;
};

const some = (names: readonly string[]): string =>
  names.length <= 3 ? names.join(', ') : `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;

/**
 * English sentences about files that were read but hold something doubtful: keys of a model nobody knows, records from before a queen's time. None: no
 * sentence.
 * @example sayDoubts({ unused: ['fixd'], early: [] }).length // 1
 */
export function sayDoubts({ unused, early }: { unused: readonly string[]; early: readonly EarlyRecord[] }): string[] {
  const known = MODEL_KEYS.join(', ');
  const first = early.map(({ queen, year }) => `${queen} ${year}`);
  return [
    ...unused.map((key) => `the model says "${key}", which is none of ${known}: it was not used`),
    ...(early.length === 0
      ? []
      : [
          `${count(early.length, 'record')} from before the queen emerged (${some(first)}): correct the year, or the day she was born`,
        ]),
  ];
}

/** `1 record`, `2 records`. */
const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;

/**
 * English sentences a reader of breeding values needs: few records (below 60), a trait without differences, colonies alone in their yard-year, yards without a
 * family in common, equations not solved to 1e-9, approximate reliabilities; each with its advice. None when nothing has to be said.
 * @example const { pedigree, records, model } = workedPrepared();
 * sayWarnings({ values: { reliabilityError: null, residual: 1e-11 }, joined: connectedness(pedigree, records), records, model }).length // 1; six records are few
 */
export function sayWarnings({ values, joined, records, model }: Evaluated): string[] {
  const { alone, sets } = joined;
  const out: string[] = [];
  if (records.count < FEW_RECORDS)
    out.push(
      `${count(records.count, 'record')}: most of this comes from the model; look at the reliabilities before the order`,
    );
  for (const trait of traitsAllAlike(records, model.traits))
    out.push(
      `${trait}: all colonies of a yard-year have the same value, so it tells no queen from another; leave it out`,
    );
  if (alone.length > 0 && model.random === undefined)
    out.push(
      `${alone.length} of the yard-years ${alone.length === 1 ? 'holds' : 'hold'} one colony (${some(alone)}): such a record tells nothing; test at least 8 together, or take yard-years as random`,
    );
  if (sets.length > 1)
    out.push(
      `the yards fall into ${sets.length} sets without a family in common (${sets.slice(0, 3).map(some).join(' | ')}): do not compare queens across them; test daughters of one dam or one batch in both`,
    );
  if (!(values.residual <= SOLVED))
    out.push(
      `the equations were solved to a relative residual of ${values.residual.toExponential(1)} only: take the values for rough, and look at the variances of the model`,
    );
  if (values.reliabilityError !== null) out.push(sayReliabilityError(values.reliabilityError));
  return out;
}
