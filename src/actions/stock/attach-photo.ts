import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { photoForm } from '#records/photo-form.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const input = z.strictObject({
  about_kind: z.string(),
  about: idShape,
  /** Content hash of the uploaded picture. */
  hash: z.string().regex(/^[0-9a-f]{64}$/),
  taken_on: dayShape.optional(),
  width: z.int().positive().max(100_000).optional(),
  height: z.int().positive().max(100_000).optional(),
});

/** Attaches an uploaded picture to any record: JPEG, PNG or WebP by its first bytes, nothing else. */
export const attachPhoto = action({
  name: 'attach-photo',
  place: 'edge',
  what: 'Attach an uploaded picture (JPEG, PNG, WebP) to a record.',
  input,
  async prepare({ hash }, { store }) {
    const kept = await store.bytes(hash);
    return kept === null ? ('not-uploaded' as const) : (photoForm(kept.bytes) ?? ('not-a-photo' as const));
  },
  async run({ taken_on, width, height, ...of }, { newId }, form) {
    if (form === 'not-uploaded' || form === 'not-a-photo')
      return { changes: [], result: null, problems: [refuse('hash', form, { hash: of.hash })] };
    const id = newId();
    const seen = { taken_on: taken_on ?? null, width: width ?? null, height: height ?? null };
    return { changes: [creating('photo', id, { ...of, form, ...seen })], result: { id } };
  },
});
