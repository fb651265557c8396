import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

/**
 * Labels the book did not know when they were used all the same. Nothing a person saw is thrown away: a queen or tube of that
 * code is written down, under the id the device gave it.
 */
export const metShape = z
  .array(z.strictObject({ kind: z.enum(['queen', 'tube']), id: idShape, code: z.string().trim().min(1).max(200) }))
  .max(4);
export type Met = z.infer<typeof metShape>;

/** Makes the records of unknown labels, unless another act has made them meanwhile. */
export async function metMade(met: Met, { book }: Circumstances): Promise<Change[]> {
  const changes: Change[] = [];
  for (const { kind, id, code } of met) {
    if ((await book.get(kind, id)) !== null) continue;
    if (kind === 'queen') changes.push(creating('queen', id, { code, origin: 'found' }));
    else changes.push(creating('tube', id, { code, form: 'capillary' }));
  }
  return changes;
}
