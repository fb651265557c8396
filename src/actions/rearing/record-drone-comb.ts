import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { type Entry, kinds, newRow, type Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { doubt, type Problem, refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { combAsPlanned } from './season/raised-as-planned.ts';
import { doneByAct } from './task-of.ts';

type Days = Pick<Row<'drone_comb'>, 'in_on' | 'laid_from' | 'laid_to' | 'emerged_from' | 'emerged_to'>;

const ORDER = ['in_on', 'laid_from', 'laid_to', 'emerged_from', 'emerged_to'] as const;

/** Days of a comb that run backwards: eggs before the comb was in, drones before eggs. */
export function combDayProblems(comb: Partial<Days>, under: string): Problem[] {
  const known = ORDER.flatMap((field) => {
    const day = comb[field];
    return day == null ? [] : [{ field, day }];
  });
  return known.flatMap(({ field, day }, i): Problem[] => {
    const before = known[i - 1];
    if (before === undefined || before.day <= day) return [];
    return [doubt(`${under}${field}`, 'comb-days-backwards', { before: before.day, day })];
  });
}

/** The tasks a day on a comb does. */
function doneKeys(comb: Partial<Days>): { keys: string[]; on: Day }[] {
  return [
    ...(comb.in_on == null ? [] : [{ keys: ['drone-comb-in'], on: comb.in_on }]),
    ...(comb.laid_from == null ? [] : [{ keys: ['drone-egg-check', 'drone-eggs'], on: comb.laid_from }]),
    ...(comb.emerged_from == null ? [] : [{ keys: ['drones-emerge'], on: comb.emerged_from }]),
  ];
}

/** Writes down a drone comb of one mother: where it hangs, when it was laid, how its drones are marked. Two mothers are two combs. */
export const recordDroneComb = action({
  name: 'record-drone-comb',
  place: 'rearing',
  what: 'Write down a drone comb of one drone mother: where it hangs, when it was laid and emerged, how its drones are marked.',
  input: kinds.drone_comb.entry,
  async run(comb, circumstances) {
    const { book, newId } = circumstances;
    const id = newId();
    const known: Entry<'drone_comb'> = { ...comb, mother_sure: comb.mother_sure ?? (comb.mother ? 'known' : null) };
    const done = [];
    for (const { keys, on } of doneKeys(comb)) done.push(...(await doneByAct(book, { cross: comb.cross, keys, on })));
    return {
      changes: [
        creating('drone_comb', id, known),
        ...(await combAsPlanned(newRow('drone_comb', id, known), circumstances)),
        ...done,
      ],
      result: { id },
      problems: combDayProblems(comb, ''),
    };
  },
});

/** A patch with only what it says something about. */
const defined = (set: Partial<Entry<'drone_comb'>>): Partial<Row<'drone_comb'>> =>
  Object.fromEntries(Object.entries(set).filter(([, value]) => value !== undefined));

/** Writes down what became of a drone comb: eggs seen, brood moved to its holder, drones emerged and marked. */
export const noteDroneComb = action({
  name: 'note-drone-comb',
  place: 'rearing',
  what: 'Write down what became of a drone comb: eggs seen, moved to a holder, drones emerged, how they are marked.',
  input: z.strictObject({ comb: idShape, set: kinds.drone_comb.patch }),
  async run({ comb, set }, circumstances) {
    const { book, day } = circumstances;
    const row = await book.get('drone_comb', comb);
    if (row === null)
      return {
        changes: [],
        result: null,
        problems: [refuse('comb', 'unknown-record', { kind: 'drone_comb', id: comb })],
      };
    const cross = set.cross ?? row.cross;
    const done = [];
    for (const { keys, on } of doneKeys(set)) done.push(...(await doneByAct(book, { cross, keys, on })));
    if (set.holder != null) done.push(...(await doneByAct(book, { cross, keys: ['drone-brood-out'], on: day })));
    return {
      changes: [
        setting('drone_comb', comb, set),
        ...(await combAsPlanned({ ...row, ...defined(set) }, circumstances)),
        ...done,
      ],
      result: { id: comb },
      problems: combDayProblems({ ...row, ...set }, 'set.'),
    };
  },
});
