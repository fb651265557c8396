import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { isKindName, kinds } from '#records/kinds.ts';
import { parse } from '#records/parse.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  kind: z.string(),
  id: idShape,
  /** The fields that are otherwise, and what they are; `null` = not known. */
  set: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
  why: z.string().max(2_000).optional(),
});

/** Lines of a tube's ledger are corrected by a new line, never changed. */
const neverChanged = ['ledger_line'];

/** Corrects a fact from now on. The old reading stays in the record's history, also when later acts built on it. */
export const correct = action({
  name: 'correct',
  place: 'edge',
  what: 'Correct facts of a record from now on; the old reading is kept in its history.',
  input,
  async run({ kind, id, set }, { book }) {
    const no = (...problems: ReturnType<typeof refuse>[]) => ({ changes: [], result: null, problems });
    if (!isKindName(kind)) return no(refuse('kind', 'unknown-kind', { kind }));
    if (neverChanged.includes(kind)) return no(refuse('kind', 'corrected-by-new-line', { kind }));
    const read = parse<object>(kinds[kind].patch, set);
    if ('problems' in read) return no(...read.problems.map((problem) => ({ ...problem, path: `set.${problem.path}` })));
    if ((await book.get(kind, id)) === null) return no(refuse('id', 'unknown-record', { kind, id }));
    return { changes: [setting(kind, id, read.value)], result: { kind, id } };
  },
});
