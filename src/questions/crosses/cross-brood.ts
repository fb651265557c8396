import { z } from 'zod';
import type { BroodFacts, BroodOfCrosses } from '#domain/brood/brood-of-crosses.ts';
import { idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import {
  gatherPlanned,
  type PlannedFacts,
  plannedReads,
  sourceInput,
  sourcesOf,
  USUAL_DRONES,
} from './planned-sides.ts';

const MOST = 400;
const crossInput = z.strictObject({ dam: idShape, drone_sources: z.array(sourceInput).min(1).max(100) });

const input = z.strictObject({
  crosses: z.array(crossInput).max(MOST),
  drones: z.number().positive().max(10_000).optional(),
});

/** Brood of planned crosses, in the order asked; `null` where the sides are not in the book. `alleles` founders were drawn from. */
export type CrossBrood = {
  alleles: number;
  draws: number;
  limit: number;
  crosses: ({ viability: number; spread: number; belowLimit: number } | null)[];
};

/** Draws for a first look: the error of a mean is below 0.2 % of viability. */
const DRAWS = 2_000;
const ALLELES = 12;
const LIMIT = 0.85;

/** How much brood of planned crosses would be shot, by sex alleles dropped through the pedigree. Worked out away from the page. */
export const crossBrood: Question<z.infer<typeof input>, PlannedFacts, CrossBrood> = question({
  name: 'cross-brood',
  what: 'How much brood of planned crosses is expected to live, by sex alleles dropped through the pedigree.',
  input,
  reads: plannedReads,
  gather: (_, facts) => gatherPlanned(facts),
  async answer(gathered, { crosses, drones = USUAL_DRONES }, compute): Promise<CrossBrood> {
    const known = new Set(gathered.pedigree.facts.queens.map(({ id }) => id));
    const asked = crosses.map(({ dam, drone_sources }) => ({
      daughterOf: dam,
      sources: sourcesOf(drone_sources, drones, gathered).sources,
    }));
    const there = asked.filter(({ daughterOf }) => known.has(daughterOf));
    const facts: BroodFacts = {
      stock: gathered.pedigree.facts,
      crosses: there,
      options: { alleles: ALLELES, draws: DRAWS, seed: 1, limit: LIMIT },
    };
    const found = there.length === 0 ? [] : await compute.run<BroodOfCrosses>('brood-of-crosses', facts);
    const byCross = new Map(there.map((cross, i) => [cross, found?.[i] ?? null]));
    return {
      alleles: ALLELES,
      draws: DRAWS,
      limit: LIMIT,
      crosses: asked.map((cross) => byCross.get(cross) ?? null),
    };
  },
});
