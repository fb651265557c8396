import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { barAsPlanned } from './season/raised-as-planned.ts';
import { doneByAct } from './task-of.ts';

/** Cells on one bar; more is a slip of the pen. */
const MOST_CELLS = 500;

const position = z.int().min(1).max(MOST_CELLS);
const rangeShape = z.strictObject({ position_from: position, position_to: position, dam: idShape });
type Range = z.infer<typeof rangeShape>;

const input = z.strictObject({
  graft: kinds.graft.entry,
  /** Which dam's larvae stand where, such as 1-10 of A and 11-20 of B. */
  ranges: z.array(rangeShape).min(1).max(100),
});

function rangeProblems(ranges: readonly Range[]): Problem[] {
  const taken = new Map<number, number>();
  return ranges.flatMap(({ position_from: from, position_to: to }, i): Problem[] => {
    if (from > to) return [refuse(`ranges.${i}.position_to`, 'range-backwards', { from, to })];
    const twice: number[] = [];
    for (let at = from; at <= to; at++) {
      if (taken.has(at)) twice.push(at);
      taken.set(at, i);
    }
    return twice.length === 0
      ? []
      : [refuse(`ranges.${i}.position_from`, 'position-twice', { position: twice[0] ?? 0 })];
  });
}

/** Every position of the ranges, in order. */
const positionsOf = (ranges: readonly Range[]): number[] =>
  ranges.flatMap(({ position_from: from, position_to: to }) =>
    Array.from({ length: to - from + 1 }, (_, i) => from + i),
  );

/** Writes down a bar that was grafted: which dam's larvae stand where. Its cells stand ready to be counted, its task is done. */
export const recordGraft = action({
  name: 'record-graft',
  place: 'rearing',
  what: "Write down a grafted bar: day, age of the larvae, and which dam's larvae stand in which positions.",
  input,
  async run({ graft, ranges }, circumstances) {
    const { book, newId } = circumstances;
    const problems = rangeProblems(ranges);
    if (problems.length > 0) return { changes: [], result: null, problems };
    const id = newId();
    const positions = positionsOf(ranges).sort((a, b) => a - b);
    return {
      changes: [
        creating('graft', id, { ...graft, larvae: graft.larvae ?? positions.length }),
        ...ranges.map((range) => creating('graft_range', newId(), { graft: id, ...range })),
        ...positions.map((at) => creating('graft_cell', newId(), { graft: id, position: at })),
        ...(await barAsPlanned(
          { id, day: graft.day, dams: ranges.map(({ dam }) => dam), cross: graft.cross ?? null },
          circumstances,
        )),
        ...(await doneByAct(book, { cross: graft.cross, keys: ['starter', 'graft'], on: graft.day })),
      ],
      result: { id },
    };
  },
});
