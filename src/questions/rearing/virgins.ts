import { z } from 'zod';
import { dayShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherVirgins, type Virgin, virginReads } from './gather-virgins.ts';

const input = z.strictObject({ today: dayShape });

/** The virgins waiting, with their age on the day of their cross and whether they had carbon dioxide; the missing first. */
export const virgins: Question<z.infer<typeof input>, Virgin[], { virgins: Virgin[] }> = question({
  name: 'virgins',
  what: 'Virgins waiting: where they stand, their age on the insemination day, whether they had carbon dioxide.',
  input,
  reads: virginReads,
  gather: ({ today }, facts) => gatherVirgins(facts, today),
  answer: (all) => ({ virgins: all.filter(({ living }) => living !== 'gone') }),
});
