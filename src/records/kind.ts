import { z } from 'zod';
import type { RecordId } from '#units/record-id.ts';
import { type Field, idShape, type ValueOf } from './field.ts';

type Fields = Readonly<Record<string, Field<unknown>>>;

/** A kind of record: its name is its table, its fields are its columns. Every record has an `id` besides. */
export type Kind<F extends Fields = Fields> = {
  readonly name: string;
  readonly fields: F;
  /** The whole record, `id` included. */
  readonly shape: z.ZodType<RowOf<F>>;
  /** What a person writes down for a new one: fields not given are not known. */
  readonly entry: z.ZodType<EntryOf<F>>;
  /** Some of its fields, for a correction. */
  readonly patch: z.ZodType<Partial<EntryOf<F>>>;
};

/** A record as it is stored. */
export type RowOf<F extends Fields> = { id: RecordId } & { -readonly [N in keyof F]: ValueOf<F[N]> };

type NeededNames<F extends Fields> = { [N in keyof F]: null extends ValueOf<F[N]> ? never : N }[keyof F];
/** A record as it is entered: needed fields must be there, the others may. */
export type EntryOf<F extends Fields> = { -readonly [N in NeededNames<F>]: ValueOf<F[N]> } & {
  -readonly [N in Exclude<keyof F, NeededNames<F>>]?: ValueOf<F[N]> | undefined;
};

/** Declares a kind of record. */
export function kind<F extends Fields>(name: string, fields: F): Kind<F> {
  const schemas = Object.entries(fields).map(([column, field]) => [column, field.schema] as const);
  const entries = Object.entries(fields).map(
    ([column, field]) => [column, field.needed ? field.schema : field.schema.optional()] as const,
  );
  return {
    name,
    fields,
    shape: z.strictObject({ id: idShape, ...Object.fromEntries(schemas) }) as unknown as z.ZodType<RowOf<F>>,
    entry: z.strictObject(Object.fromEntries(entries)) as unknown as z.ZodType<EntryOf<F>>,
    patch: z.strictObject(Object.fromEntries(schemas)).partial() as unknown as z.ZodType<Partial<EntryOf<F>>>,
  };
}

/** The stored row of a new record: what was not entered is `null`. */
export function rowOf<F extends Fields>(of: Kind<F>, id: RecordId, entry: EntryOf<F>): RowOf<F> {
  const given = entry as Record<string, unknown>;
  const columns = Object.keys(of.fields).map((column) => [column, given[column] ?? null]);
  return { id, ...Object.fromEntries(columns) } as RowOf<F>;
}
