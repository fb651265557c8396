import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { isKindName } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { dropping } from '../mechanism/recording.ts';

/** Takes a record out of the book when nothing points at it; its history stays and the act steps back like any other. */
export const removeRecord = action({
  name: 'remove-record',
  place: 'edge',
  what: 'Take a record out of the book when nothing else points at it.',
  input: z.strictObject({ kind: z.string(), id: idShape }),
  async run({ kind, id }, { book }) {
    const no = (problem: ReturnType<typeof refuse>) => ({ changes: [], result: null, problems: [problem] });
    if (!isKindName(kind)) return no(refuse('kind', 'unknown-kind', { kind }));
    if ((await book.get(kind, id)) === null) return no(refuse('id', 'unknown-record', { kind, id }));
    return { changes: [dropping(kind, id)], result: { kind, id } };
  },
});
