import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';

const foundInput = z.strictObject({ line: kinds.line.entry, founders: z.array(idShape).max(500).optional() });

/** Founds a line with the queens it begins with; they belong to it from now on. */
export const foundLine = action({
  name: 'found-line',
  place: 'stock',
  what: 'Write down a line with the queens it begins with.',
  input: foundInput,
  async run({ line, founders = [] }, { newId }) {
    const id = newId();
    return {
      changes: [
        creating('line', id, line),
        ...founders.map((queen) => creating('line_founder', newId(), { line: id, queen })),
        ...founders.map((queen) => setting('queen', queen, { line: id })),
      ],
      result: { id },
    };
  },
});

const joinInput = z.strictObject({ queens: z.array(idShape).min(1).max(10_000), line: idShape.nullable() });

/** Puts queens into a line, or (`null`) takes them out of the one they are in. */
export const joinLine = action({
  name: 'join-line',
  place: 'stock',
  what: 'Put queens into a line, or take them out of one.',
  input: joinInput,
  async run({ queens, line }, { book }) {
    const known = new Set((await book.find('queen', { id: queens })).map(({ id }) => id));
    const unknown = queens.filter((id) => !known.has(id));
    return {
      changes: unknown.length > 0 ? [] : queens.map((id) => setting('queen', id, { line })),
      result: { line },
      problems: unknown.map((id) => refuse('queens', 'unknown-record', { kind: 'queen', id })),
    };
  },
});

const sistersInput = z.strictObject({ queens: z.array(idShape).min(1).max(1_000), sister_group: idShape.nullable() });

/** Says which recorded queens belong to a group of sisters. */
export const nameSisters = action({
  name: 'name-sisters',
  place: 'stock',
  what: 'Say which recorded queens belong to a group of sisters.',
  input: sistersInput,
  async run({ queens, sister_group }, { book }) {
    const known = new Set((await book.find('queen', { id: queens })).map(({ id }) => id));
    const unknown = queens.filter((id) => !known.has(id));
    return {
      changes: unknown.length > 0 ? [] : queens.map((id) => setting('queen', id, { sister_group })),
      result: { sister_group },
      problems: unknown.map((id) => refuse('queens', 'unknown-record', { kind: 'queen', id })),
    };
  },
});
