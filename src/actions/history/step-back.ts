import { z } from 'zod';
import type { Book, Change, RecordedAct, RecordedChange } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { groupBy } from '#units/group-by.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Written } from '../mechanism/action.ts';
import { usersOf } from '../mechanism/references.ts';
import { builtOn, type Restored, takenBack } from './untangle.ts';

type Gathered = { targets: RecordedAct[]; acts: RecordedAct[]; changes: RecordedChange[]; mine: RecordedChange[] };

/** The acts to take back, and everything that ever happened to the records they touched. */
async function gather(book: Book, ids: readonly RecordId[]): Promise<Gathered> {
  const targets = await book.acts({ acts: ids });
  const mine = await book.changes({ acts: ids });
  const records = [...new Set(mine.map(({ record }) => record))];
  return { targets, mine, acts: await book.acts({ records }), changes: await book.changes({ records }) };
}

/** Acts whose records point at something that would vanish. */
async function pointingAt(book: Book, restored: readonly Restored[]): Promise<RecordedAct[]> {
  const gone = restored.filter(({ to }) => to === null);
  const vanishing = new Set(gone.map(({ kind, record }) => `${kind} ${record}`));
  const putBack = new Map(restored.map((each) => [`${each.kind} ${each.record}`, each.to] as const));
  const users = [];
  for (const [kind, records] of groupBy(gone, (each) => each.kind))
    users.push(
      ...(await usersOf(
        book,
        kind,
        records.map(({ record }) => record),
      )),
    );
  const staying = users.filter(({ kind, id, field }) => {
    if (vanishing.has(`${kind} ${id}`)) return false;
    const to = putBack.get(`${kind} ${id}`);
    return !(to !== null && to !== undefined && 'fields' in to && field in to.fields);
  });
  if (staying.length === 0) return [];
  const changes = await book.changes({ records: [...new Set(staying.map(({ id }) => id))] });
  const numbers = new Set(
    staying.flatMap(({ id, field, uses }) => {
      const set = changes.filter(({ record, after }) => record === id && after?.[field] === uses);
      return set.slice(-1).map(({ seq }) => seq);
    }),
  );
  const acts = await book.acts({ records: staying.map(({ id }) => id) });
  return acts.filter(({ seq }) => numbers.has(seq));
}

type Untangled = { targets: RecordedAct[]; restored: Restored[]; inTheWay: RecordedAct[] };

async function untangle(book: Book, ids: readonly RecordId[]): Promise<Untangled> {
  const { targets, acts, changes, mine } = await gather(book, ids);
  const restored = takenBack(mine);
  const wanted = new Set(ids);
  const later = [...builtOn(wanted, acts, changes), ...(await pointingAt(book, restored))];
  const inTheWay = new Map(later.filter(({ id }) => !wanted.has(id)).map((each) => [each.id, each]));
  return { targets, restored, inTheWay: [...inTheWay.values()].sort((a, b) => a.seq - b.seq) };
}

/** Adds the acts in the way, and those in their way, until none is left. */
async function untangleAll(book: Book, ids: readonly RecordId[]): Promise<Untangled> {
  let chain = [...ids];
  for (;;) {
    const untangled = await untangle(book, chain);
    if (untangled.inTheWay.length === 0) return untangled;
    chain = [...chain, ...untangled.inTheWay.map(({ id }) => id)];
  }
}

const inTheWayProblem = (each: RecordedAct): Problem =>
  refuse('act', 'built-on', { act: each.id, seq: each.seq, name: each.name, done: each.done });

function changeTo({ kind, record, to }: Restored): Change[] {
  if (to === null) return [{ kind, id: record, drop: true } as Change];
  if ('whole' in to) return [{ kind, id: record, create: to.whole } as unknown as Change];
  return [{ kind, id: record, set: to.fields } as Change];
}

async function changesTo(book: Book, restored: readonly Restored[]): Promise<Change[]> {
  const changes: Change[] = [];
  for (const each of restored) {
    const there = await book.get(each.kind, each.record);
    // A record made and removed again within the chain has nothing to take back.
    if (each.to === null && there === null) continue;
    if (each.to !== null && 'whole' in each.to && there !== null)
      changes.push({ kind: each.kind, id: each.record, set: withoutId(each.to.whole) } as Change);
    else changes.push(...changeTo(each));
  }
  return changes;
}

const withoutId = (row: Readonly<Record<string, unknown>>) =>
  Object.fromEntries(Object.entries(row).filter(([field]) => field !== 'id'));

const input = z.strictObject({
  act: idShape,
  /** Take the later acts that were built on it back too, as one act. */
  with_later: z.boolean().optional(),
});

type Back = { act: RecordId; steppedBack: RecordId[] };

async function written(
  book: Book,
  { targets, restored, inTheWay }: Untangled,
  act: RecordId,
): Promise<Written<Back | null>> {
  if (inTheWay.length > 0) return { changes: [], result: null, problems: inTheWay.map(inTheWayProblem) };
  const undone = targets.map(({ id }) => id);
  return { changes: await changesTo(book, restored), result: { act, steppedBack: undone }, undoes: undone };
}

/** Takes several acts back as one, or says which later acts are in the way. `act` is the one it is called after. */
export const takeBack = async (book: Book, ids: readonly RecordId[], act: RecordId): Promise<Written<Back | null>> =>
  written(book, await untangle(book, ids), act);

/**
 * Takes an act back: a new act that restores what was before. Refused while later acts were built on it, naming them,
 * unless they are taken back with it. A step back steps back like any other act.
 */
export const stepBack = action({
  name: 'step-back',
  place: 'edge',
  what: 'Take an act back, with the later acts built on it if asked.',
  input,
  async run({ act, with_later }, { book }) {
    const [target] = await book.acts({ acts: [act] });
    const no = (problem: Problem) => ({ changes: [], result: null, problems: [problem] });
    if (target === undefined) return no(refuse('act', 'unknown-act', { id: act }));
    if (target.steppedBackBy !== null)
      return no(refuse('act', 'stepped-back-already', { act, by: target.steppedBackBy }));
    const untangled = with_later ? await untangleAll(book, [act]) : await untangle(book, [act]);
    return written(book, untangled, act);
  },
});
