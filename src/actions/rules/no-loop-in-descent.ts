import type { Book } from '#ports/store.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { idsOf, type StandingRule } from './standing-rule.ts';

/** Above this many changed queens the whole stock is read at once instead of line by line. */
const FEW = 40;

async function damsUp(book: Book, from: readonly RecordId[]): Promise<Map<RecordId, RecordId | null>> {
  if (from.length > FEW) return new Map((await book.find('queen')).map(({ id, dam }) => [id, dam]));
  const dams = new Map<RecordId, RecordId | null>();
  let next = [...from];
  while (next.length > 0) {
    const rows = await book.find('queen', { id: next });
    for (const { id, dam } of rows) dams.set(id, dam);
    next = [...new Set(rows.flatMap(({ dam }) => (dam === null || dams.has(dam) ? [] : [dam])))];
  }
  return dams;
}

/** The queen where a walk from `start` up the dams meets itself, if it does. `cleared` are known to lead nowhere bad. */
function meetsItself(
  start: RecordId,
  dams: ReadonlyMap<RecordId, RecordId | null>,
  cleared: Set<RecordId>,
): RecordId | null {
  const walked = new Set<RecordId>();
  for (let at: RecordId | null = start; at !== null && !cleared.has(at); at = dams.get(at) ?? null) {
    if (walked.has(at)) return at;
    walked.add(at);
  }
  for (const id of walked) cleared.add(id);
  return null;
}

/** No queen is her own ancestress. */
export const noLoopInDescent: StandingRule = {
  says: 'no queen descends from herself',
  about: ['queen'],
  async check(book, touched) {
    const ids = idsOf(touched, 'queen');
    const dams = await damsUp(book, ids);
    const cleared = new Set<RecordId>();
    const looped = ids.map((id) => meetsItself(id, dams, cleared)).filter((id) => id !== null);
    const queens = await book.find('queen', { id: [...new Set(looped)] });
    return queens.map(({ id, code }) => refuse('dam', 'descent-loop', { kind: 'queen', id, code: code ?? id }));
  },
};
