import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  tube: idShape,
  stored_where: z.string().trim().min(1).max(200).nullable().optional(),
  temperature_c: z.number().min(-273).max(60).nullable().optional(),
  slot: z.string().trim().min(1).max(200).nullable().optional(),
  bore_mm: z.number().positive().max(10).nullable().optional(),
  /** What to assume where the ledger leaves open how the semen lies. */
  mixing: z.enum(['layered', 'stirred', 'homogenised']).nullable().optional(),
});

/** Says where a tube is kept, how cold, in which slot, and what to assume about its mixing. */
export const keepTube = action({
  name: 'keep-tube',
  place: 'semen',
  what: 'Say where a tube is kept, how cold, in which slot, and what to assume about how its semen lies.',
  input,
  async run({ tube, ...given }, { book }) {
    if ((await book.get('tube', tube)) === null)
      return { changes: [], result: null, problems: [refuse('tube', 'unknown-record', { kind: 'tube', id: tube })] };
    const set = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
    return { changes: [setting('tube', tube, set)], result: { id: tube } };
  },
});
