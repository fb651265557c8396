import type { Ports } from '#ports/ports.ts';
import type { Act, Book, Change, Done, Kept, Refused, Touched } from '#ports/store.ts';
import { rowOf } from '#records/kind.ts';
import { kinds } from '#records/kinds.ts';
import { parse } from '#records/parse.ts';
import { dayOfMoment } from '#units/moment.ts';
import { type Problem, refuse } from '#units/problem.ts';
import { idWithin } from '#units/record-id.ts';
import { standingRules } from '../rules/standing-rules.ts';
import type { Action, Circumstances } from './action.ts';
import { stillUsed, unknownReferences } from './references.ts';

/** Worries take ids from here on, so that they never meet the ids of the records an act makes. */
const WORRY_IDS = 1_000_000;

/** A problem that keeps this act from being kept. */
const isInTheWay = (happened: boolean) => (problem: Problem) =>
  problem.weight === 'refuse' || (problem.weight === 'doubt' && !happened);

/** What a worry is about, so that the same one is not opened twice. */
const matter = (code: string, about: string | null): string => `${code} ${about ?? ''}`;

/** Doubts that are not open worries already. */
async function freshDoubts(book: Book, said: readonly Problem[]): Promise<Problem[]> {
  const doubts = said.filter(({ weight }) => weight === 'doubt');
  if (doubts.length === 0) return [];
  const open = await book.find('worry', { code: [...new Set(doubts.map(({ code }) => code))], settled_on: null });
  const known = new Set(open.filter(({ about }) => about !== null).map(({ code, about }) => matter(code, about)));
  return doubts.filter(
    ({ code, values }) => !known.has(matter(code, typeof values.id === 'string' ? values.id : null)),
  );
}

/** Doubts about something that has happened are kept as open worries. */
function worriesFor(doubts: readonly Problem[], act: Act): Change[] {
  return doubts.map(({ code, values }, i) => {
    const id = idWithin(act.id, WORRY_IDS + i);
    const about_kind = typeof values.kind === 'string' ? values.kind : null;
    const about = about_kind !== null && typeof values.id === 'string' ? (values.id as Change['id']) : null;
    const create = rowOf(kinds.worry, id, { code, about_kind, about, said: JSON.stringify(values) });
    return { kind: 'worry', id, create };
  });
}

/** Fields this act changes that somebody else has changed since the person looked. */
async function changedSince(book: Book, act: Act, changes: readonly Change[]): Promise<Problem[]> {
  if (act.seen === undefined) return [];
  const set = changes.filter((change) => 'set' in change);
  if (set.length === 0) return [];
  const later = await book.changes({ records: set.map(({ id }) => id), after: act.seen });
  if (later.length === 0) return [];
  const acts = await book.acts({ after: act.seen });
  const mine = new Set(acts.filter(({ device }) => device !== null && device === act.device).map(({ seq }) => seq));
  return set.flatMap((change) =>
    Object.keys(change.set).flatMap((field) => {
      const moved = later.find(
        ({ record, after, seq }) => record === change.id && !mine.has(seq) && after !== null && field in after,
      );
      const now = moved?.after?.[field];
      return moved === undefined
        ? []
        : [refuse(field, 'changed-since', { field, now: String(now ?? ''), seq: moved.seq })];
    }),
  );
}

function circumstancesOf(act: Act, book: Book): Circumstances {
  let made = 0;
  return {
    book,
    newId: () => idWithin(act.id, made++),
    done: act.done,
    day: dayOfMoment(act.done),
    happened: act.happened ?? false,
  };
}

type Step = { action: Action; act: Act; input: unknown; prepared: unknown };

async function keep({ action, act, input, prepared }: Step, book: Book): Promise<Kept | Refused> {
  const inTheWay = isInTheWay(act.happened ?? false);
  const written = await action.run(input, circumstancesOf(act, book), prepared);
  const said = [...(written.problems ?? [])];
  if (said.some(inTheWay)) return { problems: said };
  said.push(...(await unknownReferences(book, written.changes)));
  said.push(...(await changedSince(book, act, written.changes)));
  if (said.some(inTheWay)) return { problems: said };
  await book.write(written.changes);
  said.push(...(await stillUsed(book, written.changes)));
  said.push(...(await verify(book, book.touched())));
  const fresh = await freshDoubts(book, said);
  // A step back that restores a doubt somebody has owned already, with its open worry, is not asked about it again.
  const owned = (problem: Problem) =>
    written.undoes !== undefined && problem.weight === 'doubt' && !fresh.includes(problem);
  if (said.some((problem) => inTheWay(problem) && !owned(problem))) return { problems: said };
  await book.write(worriesFor(fresh, act));
  return {
    result: written.result,
    warnings: said,
    ...(written.undoes === undefined ? {} : { undoes: written.undoes }),
  };
}

/** Runs the standing rules over what an act touched: the same for an action, a replay and a step back. */
async function verify(book: Book, touched: Touched): Promise<Problem[]> {
  const problems: Problem[] = [];
  for (const rule of standingRules) {
    const about = touched.filter(({ kind }) => rule.about.includes(kind));
    if (about.length > 0) problems.push(...(await rule.check(book, about)));
  }
  return problems;
}

/**
 * Does one act: reads its input, prepares, and records it in one transaction.
 * Answers with what became of it, or with the problems; then nothing at all has changed.
 */
export async function perform(action: Action, act: Act, ports: Ports): Promise<Done | Refused> {
  const read = parse(action.input, act.input);
  if ('problems' in read) return read;
  const prepared = await action.prepare?.(read.value, ports);
  return ports.store.act(act, (book) => keep({ action, act, input: read.value, prepared }, book));
}
