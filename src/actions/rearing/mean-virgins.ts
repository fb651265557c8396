import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { type Problem, refuse, warn } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const input = z.strictObject({
  queens: z.array(idShape).min(1).max(500),
  /** The cross they are meant for; `null`: none yet. */
  cross: idShape.nullable(),
});

async function crossProblems(book: Circumstances['book'], cross: RecordId | null): Promise<Problem[]> {
  if (cross === null) return [];
  const row = await book.get('cross', cross);
  if (row === null) return [refuse('cross', 'unknown-record', { kind: 'cross', id: cross })];
  return row.cancelled === 1 ? [refuse('cross', 'cross-cancelled', { code: row.code })] : [];
}

/** Who cannot be meant for it: she is not in the book, was inseminated, or waits at the bench for another; and whose dam has no part in it. */
async function queenProblems(
  book: Circumstances['book'],
  queens: readonly RecordId[],
  cross: RecordId | null,
): Promise<Problem[]> {
  const rows = new Map((await book.find('queen', { id: queens })).map((row) => [row.id, row]));
  const done = new Set((await book.find('insemination', { queen: queens, done: 1 })).map(({ queen }) => queen));
  const queued = new Map((await book.find('bench_queen', { queen: queens })).map((row) => [row.queen, row.cross]));
  const dams = new Set(
    cross === null ? [] : (await book.find('cross_dam', { cross })).map(({ queen }) => queen as string),
  );
  return queens.flatMap((id, i): Problem[] => {
    const at = `queens.${i}`;
    const row = rows.get(id);
    const named = { kind: 'queen', id };
    if (row === undefined) return [refuse(at, 'unknown-record', named)];
    if (done.has(id)) return [refuse(at, 'no-virgin-any-more', named)];
    if (queued.has(id) && queued.get(id) !== cross) return [refuse(at, 'queued-for-another', named)];
    return cross === null || row.dam === null || dams.has(row.dam) ? [] : [warn(at, 'dam-not-of-cross', named)];
  });
}

/** Says for which cross virgins are meant, early, as of a bar that serves two; said again it is changed. The bench queue has the last word. */
export const meanVirgins = action({
  name: 'mean-virgins',
  place: 'rearing',
  what: 'Say for which cross virgins are meant, before they are set out; null for none yet.',
  input,
  async run({ queens, cross }, { book }) {
    const problems = [...(await crossProblems(book, cross)), ...(await queenProblems(book, queens, cross))];
    if (problems.some(({ weight }) => weight === 'refuse')) return { changes: [], result: null, problems };
    const rows = await book.find('queen', { id: queens });
    const changes = rows
      .filter(({ meant_for }) => meant_for !== cross)
      .map(({ id }) => setting('queen', id, { meant_for: cross }));
    return { changes, result: { queens }, problems };
  },
});
