import { z } from 'zod';
import type { ImportChoices } from '#domain/stock-book/choices.ts';
import type { BookFacts } from '#domain/stock-book/plan.ts';
import type { Rehearsal, Rehearsed } from '#domain/stock-book/rehearsal.ts';
import type { TableProblem } from '#domain/stock-book/table.ts';
import { gatherImportBook, importBookReads } from '#gather/import-book.ts';
import { dayShape } from '#records/field.ts';
import { contentHash, importChoices } from '#records/import-choices.ts';
import { parse } from '#records/parse.ts';
import type { Problem } from '#units/problem.ts';
import { decodeUtf8 } from '#units/utf8.ts';
import { type Question, question } from '../mechanism/question.ts';

const input = z.strictObject({
  /** Content hash of the uploaded file. */
  hash: contentHash,
  choices: importChoices.optional(),
  /** The same, uploaded as JSON text, where it is too long for an address. */
  choices_kept: contentHash.optional(),
  today: dayShape,
});
type Input = z.infer<typeof input>;

/** The rehearsal, or why there can be none. */
export type RehearsalAnswer = { rehearsal: Rehearsal } | { problem: TableProblem } | { problems: Problem[] };

type Gathered = { bytes: Uint8Array; choices: ImportChoices; book: BookFacts } | { problems: Problem[] };

const missing = (path: string): { problems: Problem[] } => ({
  problems: [{ path, code: 'not-uploaded', values: {}, weight: 'refuse' }],
});

/** Long choices come as kept text; a wrong one is told like any other input. */
function readChoices(text: string): { value: ImportChoices } | { problems: Problem[] } {
  try {
    return parse(importChoices, JSON.parse(text));
  } catch {
    return { problems: [{ path: 'choices_kept', code: 'bad-json', values: {}, weight: 'refuse' }] };
  }
}

/** The dress rehearsal of bringing a spreadsheet: nothing is written by asking it. */
export const rehearseImport: Question<Input, Gathered, RehearsalAnswer> = question({
  name: 'rehearse-import',
  what: 'Rehearse the import of an uploaded table of queens: its columns, what must be asked, every row that does not fit, and counts.',
  input,
  reads: importBookReads,
  async gather({ hash, choices = {}, choices_kept }, facts) {
    const file = await facts.bytes(hash);
    if (file === null) return missing('hash');
    const kept = choices_kept === undefined ? null : await facts.bytes(choices_kept);
    if (choices_kept !== undefined && kept === null) return missing('choices_kept');
    const said = kept === null ? { value: choices } : readChoices(decodeUtf8(kept.bytes));
    if ('problems' in said) return said;
    return { bytes: file.bytes, choices: said.value, book: await gatherImportBook(facts) };
  },
  async answer(gathered, { today }, compute) {
    if ('problems' in gathered) return gathered;
    const rehearsed = await compute.run<Rehearsed | { problem: TableProblem }>('rehearse-stock', {
      ...gathered,
      today,
    });
    return 'problem' in rehearsed ? rehearsed : { rehearsal: rehearsed.rehearsal };
  },
});
