import { gatherLedger } from '#gather/ledger.ts';
import type { Change } from '#ports/store.ts';
import type { Entry } from '#records/kinds.ts';
import type { Moment } from '#units/moment.ts';
import { doubt, type Problem } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import type { NewTube } from './shapes.ts';

/** A ledger line without its place, which is the number of lines written before it. */
export type Line = Omit<Entry<'ledger_line'>, 'place'>;

/** Numbers lines on from the last one in the book, so that lines of one moment keep their order. */
export async function linesWritten(lines: readonly Line[], { book, newId }: Circumstances): Promise<Change[]> {
  const written = await book.count('ledger_line');
  return lines.map((line, k) => creating('ledger_line', newId(), { ...line, place: written + k }));
}

/** A line that happened at a moment, by a person if one is named. */
export const lineAt = (
  tube: RecordId,
  step: Line['step'],
  { at, person }: { at: Moment; person?: RecordId | undefined },
): Line => ({ tube, step, moment: at, person: person ?? null });

/** A new tube; a code that another tube still holding semen bears is doubted. */
export async function tubeMade(
  tube: NewTube,
  path: string,
  { book, newId }: Circumstances,
): Promise<{ id: RecordId; change: Change; problems: Problem[] }> {
  const id = newId();
  const { form = 'capillary', ...rest } = tube;
  const same = await book.find('tube', { code: tube.code });
  const story = same.length === 0 ? null : (await gatherLedger(book)).story;
  const problems = same
    .filter((other) => (story?.tubes.get(other.id)?.left ?? 0) > 0)
    .map((other) => doubt(path, 'tube-code-taken', { kind: 'tube', id: other.id, code: tube.code }));
  return { id, change: creating('tube', id, { ...rest, form }), problems };
}
