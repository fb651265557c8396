import type { Encoding } from '#documents/read-table/decode.ts';
import { readTable } from '#documents/read-table/read-table.ts';
import type { Rehearsed } from '#domain/stock-book/rehearsal.ts';
import { type RehearseOptions, rehearse } from '#domain/stock-book/rehearse.ts';
import type { TableProblem } from '#domain/stock-book/table.ts';

/** A file and everything said about it. */
export type RehearseFacts = RehearseOptions & { bytes: Uint8Array };

/** Reads an uploaded file and rehearses its import; or says why it is no table. */
export async function rehearseStock({
  bytes,
  ...options
}: RehearseFacts): Promise<Rehearsed | { problem: TableProblem }> {
  const { sheet, encoding, separator } = options.choices;
  const table = await readTable(bytes, { sheet, encoding: encoding as Encoding | undefined, separator });
  return 'code' in table ? { problem: table } : rehearse(table, options);
}
