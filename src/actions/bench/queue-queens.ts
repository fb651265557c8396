import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, dropping, setting } from '../mechanism/recording.ts';
import { homeOf } from '../yard/where-she-is.ts';

const queuedShape = z.strictObject({
  queen: idShape,
  /** The number on her cage. */
  cage: z.string().trim().min(1).max(40).optional(),
  /** The nuc she goes home to; the one she came from when nothing is said. */
  home: idShape.optional(),
});
type Queued = z.infer<typeof queuedShape>;

const input = z.strictObject({
  bench_day: idShape,
  cross: idShape,
  /** All queens of this cross on this day, in the order they come to the bench. */
  queens: z.array(queuedShape).max(500),
});

/** The same queen or the same cage cannot stand twice in one queue, nor a queen in the queue of another cross that day. */
function twice(queens: readonly Queued[], others: readonly Row<'bench_queen'>[]): Problem[] {
  const seen = new Set<string>();
  const elsewhere = new Set(others.map(({ queen }) => queen));
  return queens.flatMap(({ queen, cage }, i) => {
    const problems: Problem[] = [];
    if (seen.has(queen)) problems.push(refuse(`queens.${i}.queen`, 'queued-twice', { kind: 'queen', id: queen }));
    if (elsewhere.has(queen))
      problems.push(refuse(`queens.${i}.queen`, 'queued-for-another', { kind: 'queen', id: queen }));
    if (cage !== undefined && seen.has(`cage ${cage}`))
      problems.push(refuse(`queens.${i}.cage`, 'cage-twice', { cage }));
    seen.add(queen);
    if (cage !== undefined) seen.add(`cage ${cage}`);
    return problems;
  });
}

/** The cages of the queue by number, those not in the book yet made. */
async function cagesFor(queens: readonly Queued[], { book, newId }: Circumstances) {
  const known = new Map((await book.find('cage')).map(({ id, number }) => [number, id]));
  const made: Change[] = [];
  for (const { cage } of queens) {
    if (cage === undefined || known.has(cage)) continue;
    const id = newId();
    known.set(cage, id);
    made.push(creating('cage', id, { number: cage }));
  }
  return { known, made };
}

type Standing = { bench_day: RecordId; cross: RecordId; before: ReadonlyMap<string, Row<'bench_queen'>> };

async function placed(
  { queen, cage, home }: Queued,
  place: number,
  { bench_day, cross, before }: Standing,
  cages: ReadonlyMap<string, RecordId>,
  { book, newId }: Circumstances,
): Promise<Change> {
  const was = before.get(queen);
  const cageId = cage === undefined ? null : (cages.get(cage) ?? null);
  const homeId = home ?? was?.home ?? (await homeOf(book, queen));
  if (was !== undefined) return setting('bench_queen', was.id, { place, cage: cageId, home: homeId });
  return creating('bench_queen', newId(), { bench_day, cross, queen, place, cage: cageId, home: homeId });
}

/** Sets the queue of a cross on a bench day: these queens, in this order. Queens no longer named leave the queue. */
export const queueQueens = action({
  name: 'queue-queens',
  place: 'bench',
  what: 'Set which queens of a cross come to the bench on a day, in which order, in which cages.',
  input,
  async run({ bench_day, cross, queens }, circumstances) {
    const day = await circumstances.book.find('bench_queen', { bench_day });
    const problems = twice(
      queens,
      day.filter((row) => row.cross !== cross),
    );
    if (problems.length > 0) return { changes: [], result: null, problems };
    const mine = day.filter((row) => row.cross === cross);
    const { known, made } = await cagesFor(queens, circumstances);
    const standing = { bench_day, cross, before: new Map(mine.map((row) => [row.queen as string, row])) };
    const changes: Change[] = [];
    for (const [i, each] of queens.entries()) changes.push(await placed(each, i, standing, known, circumstances));
    const named = new Set<string>(queens.map(({ queen }) => queen));
    const left = mine.filter(({ queen }) => !named.has(queen)).map(({ id }) => dropping('bench_queen', id));
    return { changes: [...made, ...changes, ...left], result: { id: bench_day } };
  },
});
