import { z } from 'zod';
import type { CrossOutlook, RaisingChances, RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import { dayShape, idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherRaisingFacts, raisingFactReads } from './raising-facts.ts';

const input = z.strictObject({
  cross: idShape,
  today: dayShape,
  /** How sure it is to be, 0.5 to 0.99. */
  sure: z.number().min(0.5).max(0.99),
});

/** What to raise for a cross, and how it would look if what is late had been done as planned; `null` where nothing is late. */
export type RaisingOutlook = RaisingChances & { ifDone: CrossOutlook | null };

/** As things stand, and as if what is late had been done. */
type Gathered = { facts: RaisingFacts; ifDone: RaisingFacts | null };

/** How many to graft, hang and raise for a cross so that it suffices with the certainty asked for. `null`: no such cross, or no day yet. */
export const raisingChances: Question<z.infer<typeof input>, Gathered | null, RaisingOutlook | null> = question({
  name: 'raising-chances',
  what: 'How many larvae to graft and drones to raise for a cross, how sure that is, and which loss costs most.',
  input,
  reads: raisingFactReads,
  async gather({ cross: id, today, sure }, facts) {
    const cross = await facts.get('cross', id);
    if (cross === null) return null;
    const asked = { cross, today, sure };
    const gathered = await gatherRaisingFacts(facts, asked);
    if (gathered === null) return null;
    const done = gathered.isLate ? await gatherRaisingFacts(facts, { ...asked, ifDone: true }) : null;
    return { facts: gathered.facts, ifDone: done?.facts ?? null };
  },
  async answer(gathered, _, compute) {
    if (gathered === null || gathered.facts.queens < 1) return null;
    const { facts, ifDone } = gathered;
    const chances = await compute.run<RaisingChances>('raising-chances', facts);
    const [outlook] = ifDone === null ? [] : await compute.run<CrossOutlook[]>('cross-outlooks', [ifDone]);
    return { ...chances, ifDone: outlook ?? null };
  },
});
