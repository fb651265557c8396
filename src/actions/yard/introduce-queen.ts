import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { letIn, oddHome } from './release-queens.ts';
import { ending, openStaysIn } from './where-she-is.ts';

const input = z.strictObject({
  queen: idShape,
  colony: idShape,
  day: dayShape.optional(),
  method: z.string().trim().min(1).max(200).optional(),
  excluder: z.boolean().optional(),
  /** Left out while it is not yet known. */
  accepted: z.boolean().optional(),
  /** With `accepted: false`: she is lost. Otherwise she was taken out alive. */
  dead: z.boolean().optional(),
});

const notTaken = (queen: z.infer<typeof idShape>, day: Circumstances['day'], { newId }: Circumstances): Change =>
  creating('fate', newId(), { queen, kind: 'not-taken', happened_on: day, happened_latest: day });

/** Lets a queen into a colony, by a method, and whether the bees took her when that is known. */
export const introduceQueen = action({
  name: 'introduce-queen',
  place: 'yard',
  what: 'Let a queen into a colony: the method, and whether the bees took her when that is known.',
  input,
  async run({ queen, colony, accepted, dead, ...how }, circumstances) {
    const day = how.day ?? circumstances.day;
    const said = accepted === undefined ? {} : { accepted: accepted ? (1 as const) : (0 as const) };
    const problems = await oddHome({ queen, colony }, 'colony', circumstances);
    if (accepted !== false) {
      const changes = await letIn({ queen, colony }, { ...how, day, ...said }, circumstances);
      return { changes, result: { queen }, problems };
    }
    const id = circumstances.newId();
    const refused = creating('introduction', id, { queen, colony, day, method: how.method ?? null, accepted: 0 });
    return { changes: [refused, ...(dead === true ? [notTaken(queen, day, circumstances)] : [])], result: { queen } };
  },
});

const settleInput = z.strictObject({
  introduction: idShape,
  accepted: z.boolean(),
  day: dayShape.optional(),
  dead: z.boolean().optional(),
});

/** Says whether the bees took a queen that was let in before. When they did not, her stay there ends. */
export const settleIntroduction = action({
  name: 'settle-introduction',
  place: 'yard',
  what: 'Say whether the bees took a queen that was let in.',
  input: settleInput,
  async run({ introduction, accepted, day, dead }, circumstances) {
    const { book, day: today } = circumstances;
    const row = await book.get('introduction', introduction);
    if (row === null) {
      const values = { kind: 'introduction', id: introduction };
      return { changes: [], result: null, problems: [refuse('introduction', 'unknown-record', values)] };
    }
    const on = day ?? today;
    const set = setting('introduction', introduction, { accepted: accepted ? 1 : 0 });
    if (accepted) return { changes: [set], result: { id: introduction } };
    const here = row.colony === null ? [] : await openStaysIn(book, row.colony);
    const hers = here.filter(({ queen }) => queen === row.queen);
    const lost = dead === true ? [notTaken(row.queen, on, circumstances)] : [];
    return { changes: [set, ...ending(hers, row.day, on), ...lost], result: { id: introduction } };
  },
});
