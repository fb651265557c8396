import { z } from 'zod';
import type { ParkedAct } from '#ports/store.ts';
import type { Problem } from '#units/problem.ts';
import { type Question, question } from '../mechanism/question.ts';

/** An act a device sent that could not be done, waiting for a person. */
export type Parked = {
  act: ParkedAct['act'];
  problems: readonly Problem[];
  received: string;
};

/** The worry that keeps the word on how a parked act was settled; its values name the act. */
export const PARKED_WORRY = 'parked-act';

/** Acts of devices nobody has decided on: neither done after all nor settled with a word. */
export const parkedActs: Question<Record<string, never>, Parked[], { parked: Parked[] }> = question({
  name: 'parked-acts',
  what: 'Acts that devices sent and that could not be done, waiting for a person to decide.',
  input: z.strictObject({}),
  reads: 'all',
  async gather(_, facts) {
    const parked = await facts.parked();
    if (parked.length === 0) return [];
    const done = new Set((await facts.acts({ acts: parked.map(({ act }) => act.id) })).map(({ id }) => id));
    const settled = new Set(
      (await facts.find('worry', { code: PARKED_WORRY })).map(({ said }) => (JSON.parse(said) as { act: string }).act),
    );
    return parked
      .filter(({ act }) => !done.has(act.id) && !settled.has(act.id))
      .map(({ act, problems, received }) => ({ act, problems, received }));
  },
  answer: (parked) => ({ parked }),
});
