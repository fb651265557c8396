import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { type Day, laterOf } from '#units/calendar-day.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  queen: idShape,
  /** Where she is now; neither = she is nowhere we know. */
  colony: idShape.optional(),
  cage: idShape.optional(),
  /** The day it happened; a span when only its ends are known. */
  on: dayShape.optional(),
  on_latest: dayShape.optional(),
  role: z.enum(['heads', 'caged', 'banked']).optional(),
  why: z.string().max(500).optional(),
  /** True when she now sits there beside a queen that stays: two queens in one colony happen. */
  beside: z.boolean().optional(),
});

/** Puts a queen into a colony or a cage: her stay where she was ends, a new one begins. */
export const moveQueen = action({
  name: 'move-queen',
  place: 'stock',
  what: 'Say where a queen is from a day on: a colony, a cage, or nowhere known.',
  input,
  async run({ queen, colony, cage, on, on_latest, role, why }, { book, newId, day }) {
    const from: Day = on ?? day;
    const latest = on_latest === undefined ? from : laterOf(from, on_latest);
    if ((await book.get('queen', queen)) === null)
      return { changes: [], result: null, problems: [refuse('queen', 'unknown-record', { kind: 'queen', id: queen })] };
    const open = await book.find('stay', { queen, to_latest: null, to_earliest: null });
    const ended = open.map(({ id }) => setting('stay', id, { to_earliest: from, to_latest: latest }));
    const somewhere = colony !== undefined || cage !== undefined;
    const begun = creating('stay', newId(), {
      queen,
      colony: colony ?? null,
      cage: cage ?? null,
      role: role ?? (colony === undefined ? 'caged' : 'heads'),
      from_earliest: from,
      from_latest: latest,
      why: why ?? null,
    });
    return { changes: [...ended, ...(somewhere ? [begun] : [])], result: { queen } };
  },
});
