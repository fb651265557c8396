import { z } from 'zod';
import type { NextLook } from '#domain/living/next-look.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';

/** A yard with its colonies in walking order. */
export type YardOf = { yard: Row<'yard'> | null; nucs: Nuc[]; due: number };

const input = z.strictObject({ today: dayShape });

/** True when what is next is a decision of the breeder, not a look that is due. */
export const isToDecide = ({ key }: NextLook): boolean => key === 'decide' || key === 'confirm';

/** True when a nuc is to be looked into by a day. */
export const isDue = ({ next }: Nuc, today: string): boolean =>
  next !== null && !isToDecide(next) && next.from <= today;

function yardsAnswer({ yards, nucs }: YardBook, { today }: z.infer<typeof input>): { yards: YardOf[] } {
  const of = (yard: Row<'yard'> | null): YardOf => {
    const here = nucs.filter((nuc) => (nuc.yard?.id ?? null) === (yard?.id ?? null));
    return { yard, nucs: here, due: here.filter((nuc) => isDue(nuc, today)).length };
  };
  const loose = of(null);
  return { yards: [...yards.map(of), ...(loose.nucs.length > 0 ? [loose] : [])] };
}

/** Every yard with its colonies and nucs in walking order, who heads each and what is to be looked at. */
export const yards = question({
  name: 'yards',
  what: 'Every yard with its colonies in walking order, who heads each, and what is to be looked at.',
  input,
  reads: yardReads,
  gather: ({ today }, facts) => gatherYardBook(facts, today),
  answer: yardsAnswer,
});
