import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { action } from '../mechanism/action.ts';
import { carriesChanges } from './queen-changes.ts';
import { carriesEntry } from './queen-entry.ts';

const input = z.strictObject({ queen: idShape, carries: carriesEntry });

/** Says what a queen carries where no tube's ledger tells: an older insemination, a seller's word, a mating flight. */
export const tellMating = action({
  name: 'tell-mating',
  place: 'stock',
  what: "Say what a queen carries: an older insemination, a seller's word, a mating flight known or suspected.",
  input,
  async run({ queen, carries }, circumstances) {
    return { changes: carriesChanges(queen, carries, circumstances), result: { id: queen } };
  },
});
