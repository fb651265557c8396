import { z } from 'zod';
import type { ImportChoices } from '#domain/stock-book/choices.ts';
import { meanings } from '#domain/stock-book/meaning.ts';
import { dayShape } from './field.ts';

const meaning = z.enum(meanings);
const columnMeaning = z.strictObject({
  meaning,
  split: z.strictObject({ by: z.string().min(1).max(3), second: meaning }).nullable(),
});

const answers = z.strictObject({
  codeNames: z
    .union([z.enum(['queen', 'hive']), z.strictObject({ queenUntil: z.int().min(1900).max(2200) })])
    .optional(),
  codeSplit: z.union([meaning, z.literal('whole')]).optional(),
  codeDays: z.enum(['day-month', 'month-day', 'keep']).optional(),
  dayOrder: z.enum(['day-first', 'month-first']).optional(),
  dronesName: z.enum(['drone-mother', 'her-mother', 'line', 'place']).optional(),
  sistersEach: z.int().min(1).max(10_000).optional(),
  unknownMothers: z.enum(['make', 'leave']).optional(),
  seenOn: dayShape.optional(),
});

const column = z.string().regex(/^\d{1,3}$/);
const row = z.string().regex(/^\d{1,7}$/);

const fix = z.strictObject({
  set: z.record(column, z.string().max(32_768)).optional(),
  out: z.boolean().optional(),
  note: z.array(z.int().min(0).max(999)).max(500).optional(),
  accept: z.array(z.string().max(60)).max(30).optional(),
});

/** Everything a person says about a sheet before it is imported. */
export const importChoices = z.strictObject({
  sheet: z.string().max(200).optional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252', 'windows-1250']).optional(),
  separator: z.string().length(1).optional(),
  headerRow: z.int().min(0).max(1_000_000).optional(),
  columns: z.record(column, columnMeaning).optional(),
  answers: answers.optional(),
  fixes: z.record(row, fix).optional(),
}) as unknown as z.ZodType<ImportChoices>;

/** The meanings of columns of the last import, by their headings, as they are kept in a setting. */
export const rememberedColumns = z.record(z.string(), columnMeaning);

/** The name of that setting. */
export const REMEMBERED_COLUMNS = 'import-columns';

/** A content hash: SHA-256, hexadecimal. */
export const contentHash = z.string().regex(/^[0-9a-f]{64}$/);
