import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape, momentShape } from '#records/field.ts';
import { dayOfMoment, type Moment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { letIn, oddHome } from '../yard/release-queens.ts';
import { openStays } from '../yard/where-she-is.ts';

const input = z.strictObject({
  insemination: idShape,
  /** The nuc she goes into now; left out when she only goes back into her cage. */
  colony: idShape.optional(),
  excluder: z.boolean().optional(),
  at: momentShape.optional(),
});

/** Her stay moves to the nuc, unless she is there already. */
async function movedTo(
  queen: RecordId,
  colony: RecordId | undefined,
  how: { at: Moment; excluder: boolean | undefined },
  circumstances: Circumstances,
): Promise<{ changes: Change[]; problems: Problem[] }> {
  if (colony === undefined) return { changes: [], problems: [] };
  const there = (await openStays(circumstances.book, queen)).some((stay) => stay.colony === colony);
  if (there) return { changes: [], problems: [] };
  const day = dayOfMoment(how.at);
  return {
    changes: await letIn({ queen, colony }, { day, excluder: how.excluder }, circumstances),
    problems: await oddHome({ queen, colony }, 'colony', circumstances),
  };
}

/** She goes back in: the record of her insemination closes, because exchanges happen on return; her stay moves to her nuc. */
export const home = action({
  name: 'home',
  place: 'bench',
  what: 'A queen goes back in after the bench: her record closes, and she stands in her nuc if one is named.',
  input,
  async run({ insemination, colony, excluder, at }, circumstances) {
    const of = await circumstances.book.get('insemination', insemination);
    if (of === null) {
      const values = { kind: 'insemination', id: insemination };
      return { changes: [], result: null, problems: [refuse('insemination', 'unknown-record', values)] };
    }
    const moment = at ?? circumstances.done;
    const moved = await movedTo(of.queen, colony, { at: moment, excluder }, circumstances);
    const closed = of.closed === null ? [setting('insemination', insemination, { closed: moment })] : [];
    return { changes: [...closed, ...moved.changes], result: { id: insemination }, problems: moved.problems };
  },
});
