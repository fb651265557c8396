import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { dayOfMoment, epochOf, type Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { microlitreShape } from '../semen/shapes.ts';
import { type Line, lineAt, linesWritten } from '../semen/write-line.ts';
import { doubtsAtBench } from './doubts-at-bench.ts';
import { metMade, metShape } from './met-at-bench.ts';
import { atTheBoard, collectedShape, drawShape, exceptionShape } from './shapes.ts';

const input = z.strictObject({
  ...atTheBoard,
  queen: idShape,
  /** What was drawn: two parts for a dose out of two tubes, none where no tube was said. */
  draws: z.array(drawShape).max(10),
  /** µl in all, where nothing was drawn from a tube of the book. */
  microlitres: microlitreShape.optional(),
  tip: z.int().min(0).optional(),
  operator: idShape.optional(),
  exceptions: z.array(exceptionShape).max(20).optional(),
  /** What the tip was filled with for this dose. */
  collected: collectedShape.optional(),
  met: metShape.optional(),
});
type Input = z.infer<typeof input>;

const sum = (draws: Input['draws']) => draws.reduce((all, { microlitres }) => all + microlitres, 0);

/** The ledger lines of a dose: what the tip was filled with, then what each tube gave. */
function linesOf(given: Input, insemination: RecordId, at: Moment, person: RecordId | undefined): Line[] {
  const { collected } = given;
  const filled: Line[] =
    collected === undefined
      ? []
      : [
          {
            ...lineAt(collected.tube, 'collected', { at, person }),
            catch: collected.catch,
            volume_ul: collected.microlitres ?? null,
            drones: collected.drones ?? null,
          },
        ];
  const drawn = given.draws.map(
    (draw): Line => ({
      ...lineAt(draw.tube, 'dose', { at, person }),
      volume_ul: draw.microlitres,
      end: draw.end ?? null,
      insemination,
    }),
  );
  return [...filled, ...drawn];
}

/** Exceptions noted with a dose; a queen who died of it has her fate with it. */
export function exceptionsMade(
  { insemination, queen, exceptions }: { insemination: RecordId; queen: RecordId; exceptions: Input['exceptions'] },
  { newId, day }: Pick<Circumstances, 'newId' | 'day'>,
): Change[] {
  const rows = (exceptions ?? []).map((kind) => creating('insemination_exception', newId(), { insemination, kind }));
  const died = exceptions?.includes('died') === true;
  const fate = { queen, kind: 'died', happened_on: day, happened_latest: day, cause: 'insemination' } as const;
  return died ? [...rows, creating('fate', newId(), fate)] : rows;
}

function inseminationOf(given: Input, at: Moment, operator: RecordId | null) {
  const { queen, bench_day, cross, tip, exceptions = [] } = given;
  return {
    queen,
    bench_day,
    cross,
    day: dayOfMoment(at),
    moment: at,
    operator,
    tip: tip === undefined ? null : String(tip),
    tries: exceptions.includes('second-try') ? 2 : 1,
    given_ul: given.draws.length > 0 ? sum(given.draws) : (given.microlitres ?? null),
    done: 1 as const,
  };
}

/**
 * A queen was given her dose: the insemination, what was drawn out of which tubes, and what went otherwise, as one act. It has
 * happened, so it is recorded whatever can be doubted about it; the doubts stand as worries.
 */
export const giveDose = action({
  name: 'give-dose',
  place: 'bench',
  what: 'Record the dose a queen was given: out of which tubes, with which tip, and what went otherwise.',
  input,
  prepare: async (_, { clock }) => ({ receivedAt: epochOf(clock.now()) }),
  async run(given, circumstances, { receivedAt }) {
    const { book, newId, done } = circumstances;
    const id = newId();
    const at = given.at ?? done;
    const operator = given.operator ?? (await book.get('bench_day', given.bench_day))?.operator ?? null;
    const insemination = inseminationOf(given, at, operator);
    const lines = linesOf(given, id, at, operator ?? undefined);
    const tubes = given.draws.map(({ tube }) => tube);
    const { bench_day, cross, queen } = given;
    const microlitres = insemination.given_ul ?? 0;
    return {
      changes: [
        ...(await metMade(given.met ?? [], circumstances)),
        creating('insemination', id, insemination),
        ...(await linesWritten(lines, circumstances)),
        ...exceptionsMade({ insemination: id, queen, exceptions: given.exceptions }, circumstances),
      ],
      result: { id },
      problems: await doubtsAtBench({ bench_day, cross, queen, tubes, microlitres, at, receivedAt }, book),
    };
  },
});
