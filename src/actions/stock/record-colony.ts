import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  colony: kinds.colony.entry,
  yard: idShape.optional(),
  /** Its place in the walking order of the yard. */
  spot: z.int().min(0).optional(),
});

/** Writes down a colony or nuc and where it stands. */
export const recordColony = action({
  name: 'record-colony',
  place: 'yard',
  what: 'Write down a colony, nuc, starter, finisher, bank or drone holder, and where it stands.',
  input,
  async run({ colony, yard, spot }, { newId }) {
    const id = newId();
    const stood_from = colony.since ?? null;
    const stands =
      yard === undefined
        ? []
        : [creating('colony_place', newId(), { colony: id, yard, stood_from, spot: spot ?? null })];
    return { changes: [creating('colony', id, colony), ...stands], result: { id } };
  },
});
