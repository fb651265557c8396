import { z } from 'zod';
import { dayShape, idShape, momentShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const hash = z.string().regex(/^[0-9a-f]{64}$/);

const input = z.strictObject({
  what: z.enum(['worth', 'variances']),
  day: dayShape.optional(),
  done: momentShape.optional(),
  person: idShape.optional(),
  /** Version of the program that worked it out. */
  version: z.string().trim().min(1).max(100),
  /** Choices and options, as JSON text. */
  parameters: z.string().min(2).max(200_000),
  fingerprint: hash,
  answer_fingerprint: hash,
  seed: z.int().min(0),
  /** Content hashes of the input and the answer, uploaded before: JSON, packed as gzip. */
  input: hash,
  answer: hash,
  words: z.string().trim().min(1).max(2_000).optional(),
});

/** Whether bytes say that they are gzip (RFC 1952 § 2.3.1). */
const isPacked = (kept: { bytes: Uint8Array } | null): boolean => kept?.bytes[0] === 0x1f && kept.bytes[1] === 0x8b;

const isJson = (text: string): boolean => {
  try {
    return typeof JSON.parse(text) === 'object';
  } catch {
    return false;
  }
};

/** Keeps what was worked out, with all that is needed to work it out again bit for bit. Its input and answer are uploaded first. */
export const keepRun = action({
  name: 'keep-run',
  place: 'stock',
  what: 'Keep worked-out breeding values with version, parameters, fingerprints and seed.',
  input,
  async prepare(given, { store }) {
    const [kept, told] = [await store.bytes(given.input), await store.bytes(given.answer)];
    return { hasBytes: kept !== null && told !== null, arePacked: isPacked(kept) && isPacked(told) };
  },
  async run(given, { newId, day, done }, { hasBytes, arePacked }) {
    const id = newId();
    const problems = [
      ...(hasBytes ? [] : [refuse('input', 'run-without-bytes')]),
      ...(hasBytes && !arePacked ? [refuse('input', 'run-not-packed')] : []),
      ...(isJson(given.parameters) ? [] : [refuse('parameters', 'bad-json')]),
    ];
    const row = { ...given, day: given.day ?? day, done: given.done ?? done };
    return { changes: [creating('run', id, row)], result: { id }, problems };
  },
});
