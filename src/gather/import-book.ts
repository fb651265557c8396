import type { BookFacts } from '#domain/stock-book/plan.ts';
import type { Facts } from '#ports/store.ts';
import { REMEMBERED_COLUMNS, rememberedColumns } from '#records/import-choices.ts';
import type { KindName } from '#records/kinds.ts';
import { yearOf } from '#units/calendar-day.ts';

export const importBookReads = ['queen', 'queen_code', 'fate', 'setting'] as const satisfies readonly KindName[];

function remembered(text: string | undefined): BookFacts['remembered'] {
  if (text === undefined) return {};
  try {
    const read = rememberedColumns.safeParse(JSON.parse(text));
    return read.success ? read.data : {};
  } catch {
    return {};
  }
}

/** What the book holds already, as far as an import has to know: who bears which code, and what columns meant last time. */
export async function gatherImportBook(facts: Facts): Promise<BookFacts> {
  const ended = new Set((await facts.find('fate')).map(({ queen }) => queen));
  const queens = (await facts.find('queen')).flatMap(({ id, code, year, emerged }) =>
    code === null ? [] : [{ id, code, emerged, year: emerged === null ? year : yearOf(emerged), gone: ended.has(id) }],
  );
  const formerCodes = (await facts.find('queen_code')).map(({ queen, code }) => ({ queen, code }));
  const [setting] = await facts.find('setting', { name: REMEMBERED_COLUMNS });
  return { queens, formerCodes, remembered: remembered(setting?.value) };
}
