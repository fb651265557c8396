import { z } from 'zod';
import { type Day, parseDay } from '#units/calendar-day.ts';
import { type Moment, parseMoment } from '#units/moment.ts';
import { isRecordId, type RecordId } from '#units/record-id.ts';

/** How a field is stored: the same three words on SQLite (STRICT) and PostgreSQL (`real` there is double precision). */
export type Sql = 'text' | 'integer' | 'real';

/** One fact of a record: the shape of its value, its column, and what it points at. A value not known is `null`. */
export type Field<T> = {
  readonly schema: z.ZodType<T>;
  readonly sql: Sql;
  /** Name of the kind this field holds an id of; '*' when a sister field names the kind. */
  readonly refers?: string;
  readonly needed: boolean;
};

export type ValueOf<F> = F extends Field<infer T> ? T : never;

/** Longest text a field takes, characters. */
export const longestText = 20_000;

const optional = <T>(schema: z.ZodType<T>, sql: Sql, refers?: string): Field<T | null> => ({
  schema: schema.nullable(),
  sql,
  needed: false,
  ...(refers === undefined ? {} : { refers }),
});

/** Makes a field one that is always known. */
export const needed = <T>(field: Field<T | null>): Field<T> => ({
  ...field,
  schema: (field.schema as unknown as z.ZodNullable<z.ZodType<T>>).unwrap() as z.ZodType<T>,
  needed: true,
});

export const dayShape = z
  .string()
  .refine((text) => parseDay(text) !== null, { params: { code: 'not-a-day' } })
  .meta({ format: 'date' }) as unknown as z.ZodType<Day>;

export const momentShape = z
  .string()
  .refine((text) => parseMoment(text) !== null, { params: { code: 'not-a-moment' } })
  .meta({ description: 'RFC 9557 date-time with zone' }) as unknown as z.ZodType<Moment>;

export const idShape = z
  .string()
  .refine((text) => isRecordId(text), { params: { code: 'not-an-id' } })
  .meta({ format: 'uuid' }) as unknown as z.ZodType<RecordId>;

/** Plain words, trimmed; an empty text is no text. */
export const text = (): Field<string | null> => optional(z.string().trim().min(1).max(longestText), 'text');
export const day = (): Field<Day | null> => optional(dayShape, 'text');
export const moment = (): Field<Moment | null> => optional(momentShape, 'text');
/** A whole number of 0 or more. */
export const count = (): Field<number | null> => optional(z.int().min(0).max(100_000_000), 'integer');
/** Microlitres, 0 or more. */
export const microlitre = (): Field<number | null> => optional(z.number().min(0).max(1_000_000), 'real');
/** Any finite number; the unit is in the field's name. */
export const amount = (): Field<number | null> => optional(z.number(), 'real');
/** A fraction, 0 to 1. */
export const share = (): Field<number | null> => optional(z.number().min(0).max(1), 'real');
/** Yes (1) or no (0); `null` when nobody said. */
export const flag = (): Field<0 | 1 | null> => optional(z.union([z.literal(0), z.literal(1)]), 'integer');
/** One of a closed list of words. */
export const oneOf = <const W extends readonly [string, ...string[]]>(...words: W): Field<W[number] | null> =>
  optional(z.enum(words) as unknown as z.ZodType<W[number]>, 'text');
/** The id of a record of one kind. */
export const ref = (kind: string): Field<RecordId | null> => optional(idShape, 'text', kind);
/** The id of a record whose kind stands in the field `about_kind`. */
export const refToAny = (): Field<RecordId | null> => optional(idShape, 'text', '*');
/** How sure the field of the same name is: known, guessed, or (`null`) nothing said because it is unknown. */
export const sure = () => oneOf('known', 'guessed');
