import { z } from 'zod';
import { type QueenLife, type SurvivalByGroup, survivalByGroup } from '#domain/lessons/survival-by-group.ts';
import { culledAs, gatherQueenLives, lifeGroups, queenLifeReads } from '#gather/queen-lives.ts';
import { dayShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';

export { type LifeGroup, lifeGroups } from '#gather/queen-lives.ts';

const input = z.strictObject({
  today: dayShape,
  by: z.enum(lifeGroups).default('mating'),
  culled: z.enum(culledAs).default('lost'),
});

/** How long laying queens last, by how they mated, by line or by year; culled queens count as lost, or as watched until then. */
export const queenSurvival: Question<z.infer<typeof input>, QueenLife[], SurvivalByGroup> = question({
  name: 'queen-survival',
  what: 'How long laying queens last by age: inseminated against naturally mated, by line or by year, and what luck explains.',
  input: input as unknown as z.ZodType<z.infer<typeof input>>,
  reads: queenLifeReads,
  gather: (asked, facts) => gatherQueenLives(facts, asked),
  answer: (lives, { by }) => survivalByGroup(lives, by === 'mating' ? { against: 'natural' } : {}),
});
