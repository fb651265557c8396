import { countBack } from '#domain/rearing/count-back.ts';
import type { Task } from '#domain/rearing/task.ts';
import { refusalsOf, type Wish } from '#domain/rearing/wish.ts';
import { wishOf } from '#gather/cross-plan.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import type { Book, Change } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { setting } from '../mechanism/recording.ts';
import { sightsOf } from './last-proof.ts';
import type { Look, Sight } from './look.ts';

const EGGS: readonly Sight[] = ['eggs', 'several-in-a-cell', 'worker-caps', 'drone-caps', 'own-workers'];
const GONE: readonly Sight[] = ['queen-gone', 'another-queen'];
const CAPS: readonly Sight[] = ['worker-caps', 'drone-caps', 'own-workers'];

/** One queen's looks since she was inseminated in a cross, those of this act among them. */
type Watched = { days: Day[]; eggs: Day | null; capped: boolean; gone: boolean };

/** The cross of her last insemination, or `null`. */
export async function crossOf(book: Book, queen: RecordId): Promise<RecordId | null> {
  const done = await book.find('insemination', { queen, done: 1 });
  const last = done
    .filter(({ cross }) => cross !== null)
    .sort((a, b) => ((dayOfInsemination(a) ?? '') < (dayOfInsemination(b) ?? '') ? -1 : 1))
    .at(-1);
  return last?.cross ?? null;
}

/** The queens inseminated in a cross. */
export async function queensOfCross(book: Book, cross: RecordId): Promise<RecordId[]> {
  const done = await book.find('insemination', { cross, done: 1 });
  return [...new Set(done.map(({ queen }) => queen))];
}

function watchedBy(looks: readonly { day: Day; sights: readonly Sight[] }[], ended: boolean): Watched {
  const eggs = looks.filter(({ sights }) => sights.some((sight) => EGGS.includes(sight))).map(({ day }) => day);
  return {
    days: looks.filter(({ sights }) => !sights.includes('not-opened')).map(({ day }) => day),
    eggs: eggs.length === 0 ? null : eggs.reduce(earlierOf),
    capped: looks.some(({ sights }) => sights.some((sight) => CAPS.includes(sight))),
    gone: ended || looks.some(({ sights }) => sights.some((sight) => GONE.includes(sight))),
  };
}

async function watchedIn(book: Book, cross: Row<'cross'>, looks: readonly Look[]): Promise<Watched[]> {
  const queens = await queensOfCross(book, cross.id);
  const since = cross.inseminate_on ?? '';
  const rows = (await book.find('laying_check', { queen: queens })).filter(({ day }) => day >= since);
  const sights = await sightsOf(book, rows);
  const byQueen = groupBy(rows, ({ queen }) => queen);
  const ended = new Set((await book.find('fate', { queen: queens })).map(({ queen }) => queen));
  return queens.map((queen) => {
    const before = (byQueen.get(queen) ?? []).map(({ id, day }) => ({ day, sights: sights.get(id) ?? [] }));
    return watchedBy([...before, ...looks.filter((look) => look.queen === queen)], ended.has(queen));
  });
}

type Span = { from: Day; to: Day };

/** The days of the checks of a cross: from its first eggs to its last, or to the plan's day while some have none yet. */
function spansOf(wish: Omit<Wish, 'eggsSeen'>, first: Day, last: Day | null): Map<string, Span> {
  const named = (tasks: readonly Task[]) => new Map(tasks.map((task) => [task.key as string, task]));
  const from = named(countBack({ ...wish, eggsSeen: first }));
  const to = named(countBack(last === null ? wish : { ...wish, eggsSeen: last }));
  const keys = ['excluder-off', 'brood-check', 'own-workers'];
  return new Map(
    keys.flatMap((key) => {
      const a = from.get(key);
      const b = to.get(key);
      return a === undefined || b === undefined ? [] : [[key, { from: a.from, to: laterOf(a.to, b.to) }] as const];
    }),
  );
}

/** A task's new days, moved by as many days as a person had moved it. */
function moved(task: Row<'task'>, span: Span | undefined): Change[] {
  if (span === undefined) return [];
  const from = addDays(span.from, task.by_hand ?? 0);
  const to = addDays(span.to, task.by_hand ?? 0);
  if (task.span_from === from && task.span_to === to) return [];
  return [setting('task', task.id, { day: from, span_from: from, span_to: to, sequence: task.sequence + 1 })];
}

/**
 * A look for eggs is done when every queen still there was looked at from its first day on, or had eggs already; the look at
 * the caps when caps of every one were seen.
 */
function doneByLooking(task: Row<'task'>, watched: readonly Watched[], on: Day): Change[] {
  const waiting = watched.filter(({ gone }) => !gone);
  const isLooked = ({ days, eggs }: Watched) => eggs !== null || days.some((day) => day >= task.span_from);
  const isDone =
    (task.key.startsWith('egg-check') && waiting.every(isLooked)) ||
    (task.key === 'brood-check' && waiting.every(({ capped }) => capped));
  return isDone && watched.length > 0 ? [setting('task', task.id, { done_on: on })] : [];
}

/** When nobody is left without eggs, later looks for eggs fall away. */
function fallsAway(task: Row<'task'>, last: Day | null): Change[] {
  if (last === null || !task.key.startsWith('egg-check') || task.span_from <= last) return [];
  return [setting('task', task.id, { cancelled: 1, sequence: task.sequence + 1 })];
}

async function recountOne(book: Book, cross: Row<'cross'>, looks: readonly Look[]): Promise<Change[]> {
  const on = looks.map(({ day }) => day).reduce(laterOf);
  const watched = await watchedIn(book, cross, looks);
  const eggs = watched.flatMap((each) => (each.eggs === null ? [] : [each.eggs]));
  const wish = wishOf(cross, await gatherProfiles(book));
  const allLay = watched.every((each) => each.gone || each.eggs !== null);
  const last = eggs.length > 0 && allLay ? eggs.reduce(laterOf) : null;
  const first = eggs.length === 0 || wish === null ? null : laterOf(eggs.reduce(earlierOf), wish.inseminate);
  const countable = wish !== null && refusalsOf(wish).length === 0 && first !== null;
  const spans = countable ? spansOf(wish, first, last) : new Map<string, Span>();
  const tasks = (await book.find('task', { cross: cross.id, done_on: null })).filter(
    ({ cancelled }) => cancelled !== 1,
  );
  return tasks.flatMap((task) => {
    const fallen = fallsAway(task, last);
    return fallen.length > 0 ? fallen : [...moved(task, spans.get(task.key)), ...doneByLooking(task, watched, on)];
  });
}

/**
 * Counts the checks of every cross these looks belong to anew: eggs seen move the caps and the first workers, a look at every
 * queen does the task, and looks for eggs fall away when none is left without.
 */
export async function recountChecks(book: Book, looks: readonly Look[]): Promise<Change[]> {
  const ids = new Set<RecordId>();
  for (const { queen } of looks) {
    const cross = queen === null ? null : await crossOf(book, queen);
    if (cross !== null) ids.add(cross);
  }
  const changes: Change[] = [];
  for (const cross of await book.find('cross', { id: [...ids] }))
    changes.push(...(await recountOne(book, cross, looks)));
  return changes;
}
