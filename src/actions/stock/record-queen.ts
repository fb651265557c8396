import { action } from '../mechanism/action.ts';
import { queenChanges } from './queen-changes.ts';
import { queenEntry } from './queen-entry.ts';

/** Writes down a queen: who she is, her mark, where she stands, what she carries, and what is only guessed about her. */
export const recordQueen = action({
  name: 'record-queen',
  place: 'stock',
  what: 'Write down a queen with her mark, where she stands, what she carries, and what is guessed about her.',
  input: queenEntry,
  async run(given, circumstances) {
    const id = circumstances.newId();
    return { changes: queenChanges(id, given, circumstances), result: { id } };
  },
});
