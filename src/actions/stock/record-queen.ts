import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  queen: kinds.queen.entry,
  /** Other readings of a doubtful fact: possible dams with their weights. */
  guesses: z
    .array(
      z.strictObject({
        field: z.string(),
        value: z.string(),
        weight: z.number().min(0).max(1),
        by: z.string().optional(),
      }),
    )
    .optional(),
  mark: z
    .strictObject({ colour: z.string().optional(), disc: z.int().min(0).optional(), clip: z.string().optional() })
    .optional(),
  /** Where she stands: a colony she heads or sits in, or a cage. */
  stands: z
    .strictObject({ colony: idShape.optional(), cage: idShape.optional(), since: dayShape.optional() })
    .optional(),
});
type Input = z.infer<typeof input>;

function markOf({ mark, queen }: Input, id: Change['id'], { newId }: Circumstances): Change[] {
  if (mark === undefined) return [];
  return [creating('mark', newId(), { queen: id, ...mark, worn_from: queen.emerged ?? null } as never)];
}

function stayOf({ stands }: Input, queen: Change['id'], { newId }: Circumstances): Change[] {
  if (stands === undefined) return [];
  const { colony = null, cage = null, since = null } = stands;
  const role = colony === null ? 'caged' : 'heads';
  return [creating('stay', newId(), { queen, colony, cage, role, from_earliest: since, from_latest: since })];
}

/** Writes down a queen: who she is, her mark, where she stands, and what is only guessed about her. */
export const recordQueen = action({
  name: 'record-queen',
  place: 'stock',
  what: 'Write down a queen with her mark, where she stands, and what is guessed about her.',
  input,
  async run(given, circumstances) {
    const id = circumstances.newId();
    const { queen, guesses = [] } = given;
    const dam_sure = queen.dam_sure ?? (queen.dam ? 'known' : null);
    const guessed = guesses.map((guess) =>
      creating('guess', circumstances.newId(), { about_kind: 'queen', about: id, ...guess }),
    );
    return {
      changes: [
        creating('queen', id, { ...queen, dam_sure }),
        ...markOf(given, id, circumstances),
        ...stayOf(given, id, circumstances),
        ...guessed,
      ],
      result: { id },
    };
  },
});
