import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { dayShape } from '#records/field.ts';
import { question } from '../mechanism/question.ts';
import { faceReads, queenFaces } from './queen-faces.ts';

const which = z.enum(['living', 'all']);
export type ChoosableQueens = z.infer<typeof which>;

const input = z.strictObject({ which: which.default('living'), today: dayShape });

const living = { alive: 0, unknown: 1, gone: 2 } as const;
const first = (a: QueenFace, b: QueenFace) =>
  living[a.living] - living[b.living] || (b.year ?? 0) - (a.year ?? 0) || ((a.code ?? '') < (b.code ?? '') ? -1 : 1);

/** Queens a form may choose from: living ones (and those not seen for long) or all, the living and the young first. */
export const chooseQueens = question({
  name: 'choose-queens',
  what: 'Queens to choose from, each with what she is recognised by.',
  input,
  reads: faceReads,
  gather: ({ today }, facts) => queenFaces(facts, { today }),
  answer: (faces, { which }) => ({
    queens: faces.filter((face) => which === 'all' || face.living !== 'gone').sort(first),
  }),
});
