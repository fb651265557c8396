import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { exceptionsMade } from './give-dose.ts';
import { exceptionShape } from './shapes.ts';

const input = z.strictObject({ insemination: idShape, exception: exceptionShape });

/** Notes what went otherwise with a queen already inseminated. The same twice is once. */
export const addException = action({
  name: 'add-exception',
  place: 'bench',
  what: 'Note what went otherwise with a queen who was inseminated: a leak, a second try, a flag …',
  input,
  async run({ insemination, exception }, circumstances) {
    const { book } = circumstances;
    const of = await book.get('insemination', insemination);
    if (of === null) {
      const values = { kind: 'insemination', id: insemination };
      return { changes: [], result: null, problems: [refuse('insemination', 'unknown-record', values)] };
    }
    const [known] = await book.find('insemination_exception', { insemination, kind: exception });
    if (known !== undefined) return { changes: [], result: { id: known.id } };
    const made = exceptionsMade({ insemination, queen: of.queen, exceptions: [exception] }, circumstances);
    const tries =
      exception === 'second-try' ? [setting('insemination', insemination, { tries: (of.tries ?? 1) + 1 })] : [];
    return { changes: [...made, ...tries], result: { id: made[0]?.id ?? null } };
  },
});
