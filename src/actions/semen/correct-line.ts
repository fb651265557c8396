import { z } from 'zod';
import type { Book, Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';
import { endShape, microlitreShape, whenAndWho } from './shapes.ts';
import { type Line, linesWritten } from './write-line.ts';

const input = z.strictObject({
  line: idShape,
  /** It never happened. */
  withdrawn: z.boolean().optional(),
  microlitres: microlitreShape.optional(),
  semen: microlitreShape.optional(),
  drones: z.number().min(0).optional(),
  end: endShape.optional(),
  from_end: endShape.optional(),
  ...whenAndWho,
});
type Input = z.infer<typeof input>;

/** The line that stands now in place of a line: the last one that corrects it, also over several steps. */
async function standingOf(line: Row<'ledger_line'>, book: Book): Promise<Row<'ledger_line'>> {
  const later = (await book.find('ledger_line', { corrects: line.id })).at(-1);
  return later === undefined ? line : standingOf(later, book);
}

function corrected(was: Row<'ledger_line'>, given: Input): Line {
  const { id: _, place: __, insemination: ___, ...line } = was;
  return {
    ...line,
    step: given.withdrawn === true ? 'withdrawn' : was.step,
    moment: given.at ?? was.moment,
    person: given.person ?? was.person,
    volume_ul: given.microlitres ?? was.volume_ul,
    semen_ul: given.semen ?? was.semen_ul,
    drones: given.drones ?? was.drones,
    end: given.end ?? was.end,
    from_end: given.from_end ?? was.from_end,
    corrects: was.id,
  };
}

/** A corrected dose changes what its insemination gave. */
async function doseCorrected(first: Row<'ledger_line'>, was: number, is: number, book: Book): Promise<Change[]> {
  const given = await book.get('insemination', first.insemination);
  if (given === null || given.given_ul === null) return [];
  return [setting('insemination', given.id, { given_ul: Math.max(0, given.given_ul - was + is) })];
}

async function firstOf(line: Row<'ledger_line'>, book: Book): Promise<Row<'ledger_line'>> {
  const before = await book.get('ledger_line', line.corrects);
  return before === null ? line : firstOf(before, book);
}

/** Corrects a line of a tube's ledger by a new line that stands in its place; the old one stays to be read. */
export const correctLine = action({
  name: 'correct-line',
  place: 'semen',
  what: 'Correct a line of the ledger of a tube by a new line in its place, or say that it never happened.',
  input,
  async run(given, circumstances) {
    const { book } = circumstances;
    const line = await book.get('ledger_line', given.line as RecordId);
    if (line === null)
      return {
        changes: [],
        result: null,
        problems: [refuse('line', 'unknown-record', { kind: 'ledger_line', id: given.line })],
      };
    const was = await standingOf(line, book);
    if (was.step === 'withdrawn') return { changes: [], result: null, problems: [refuse('line', 'line-withdrawn')] };
    const next = corrected(was, given);
    const written = await linesWritten([next], circumstances);
    const volume = next.step === 'withdrawn' ? 0 : (next.volume_ul ?? 0);
    const dose =
      was.step === 'dose' ? await doseCorrected(await firstOf(was, book), was.volume_ul ?? 0, volume, book) : [];
    return { changes: [...written, ...dose], result: { id: written[0]?.id ?? null } };
  },
});
