import { z } from 'zod';
import type { Ports } from '#ports/ports.ts';
import type { Book } from '#ports/store.ts';
import { contentHash } from '#records/import-choices.ts';
import type { Row } from '#records/kinds.ts';
import { groupBy } from '#units/group-by.ts';
import { type Problem, refuse } from '#units/problem.ts';

/** What every import of a plain table takes: the content hash of the uploaded file. */
export const plainInput = z.strictObject({ hash: contentHash });

/** The uploaded bytes; `null` when they are not there. */
export const uploaded = async (hash: string, { store }: Pick<Ports, 'store'>): Promise<Uint8Array | null> =>
  (await store.bytes(hash))?.bytes ?? null;

/** What a refused import answers. */
export const refused = (...problems: Problem[]) => ({ changes: [], result: null, problems });
export const notUploaded = () => refused(refuse('hash', 'not-uploaded'));

/** The queen each code means: a living bearer first, else the youngest. */
export async function queensByCode(book: Book): Promise<Map<string, Row<'queen'>>> {
  const ended = new Set((await book.find('fate')).map(({ queen }) => queen));
  const age = ({ emerged, year }: Row<'queen'>) => emerged ?? `${year ?? ''}`;
  const order = (a: Row<'queen'>, b: Row<'queen'>) =>
    Number(ended.has(a.id)) - Number(ended.has(b.id)) || (age(a) < age(b) ? 1 : -1);
  const all = (await book.find('queen')).filter(({ code }) => code !== null);
  const byCode = groupBy(all, ({ code }) => code as string);
  return new Map(
    [...byCode].flatMap(([code, bearers]) =>
      [...bearers]
        .sort(order)
        .slice(0, 1)
        .map((queen) => [code, queen] as const),
    ),
  );
}
