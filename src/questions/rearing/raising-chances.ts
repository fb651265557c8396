import { z } from 'zod';
import type { RaisingChances, RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import { dayShape, idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherRaisingFacts, raisingFactReads } from './raising-facts.ts';

const input = z.strictObject({
  cross: idShape,
  today: dayShape,
  /** How sure it is to be, 0.5 to 0.99. */
  sure: z.number().min(0.5).max(0.99),
});

/** How many to graft, hang and raise for a cross so that it suffices with the certainty asked for. `null`: no such cross, or no day yet. */
export const raisingChances: Question<z.infer<typeof input>, RaisingFacts | null, RaisingChances | null> = question({
  name: 'raising-chances',
  what: 'How many larvae to graft and drones to raise for a cross, how sure that is, and which loss costs most.',
  input,
  reads: raisingFactReads,
  async gather({ cross: id, today, sure }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    return (await gatherRaisingFacts(facts, { cross, today, sure }))?.facts ?? null;
  },
  answer: async (facts, _, compute) =>
    facts === null || facts.queens < 1 ? null : compute.run<RaisingChances>('raising-chances', facts),
});
