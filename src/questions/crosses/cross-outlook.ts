import { z } from 'zod';
import type { Assumption } from '#domain/pedigree/assumption.ts';
import { relationshipBetween } from '#domain/pedigree/kinship.ts';
import { plannedCross } from '#domain/pedigree/planned-cross.ts';
import { idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import {
  gatherPlanned,
  hasQueen,
  layStock,
  mothersIn,
  type PlannedFacts,
  plannedReads,
  restsOn,
  sourceInput,
  sourcesOf,
  USUAL_DRONES,
} from './planned-sides.ts';

const input = z.strictObject({
  dams: z.array(idShape).max(100),
  drone_sources: z.array(sourceInput).max(100),
  drones: z.number().positive().max(10_000).optional(),
});

/** What one dam's daughters and this drone side give. */
export type DamOutlook = {
  dam: string;
  name: string;
  /** Inbreeding of the brood of her daughters: the coancestry of a daughter and the planned pool. */
  broodInbreeding: number;
  /** Additive relationship of two of the colonies' workers or daughters. */
  sisterRelationship: number;
  /** Additive relationship of the dam and the drone mothers, by their shares; `null` where none is a queen of the book. */
  relationship: number | null;
};

/** The kinship side of a planned cross. */
export type CrossOutlook = { drones: number; dams: DamOutlook[]; assumptions: Assumption[] };

/** How inbred the brood of a planned cross would be, and what that rests on. The queens inseminated are daughters of the dams. */
export const crossOutlook: Question<z.infer<typeof input>, PlannedFacts, CrossOutlook> = question({
  name: 'cross-outlook',
  what: 'How related the sides of a planned cross are, how inbred its brood would be, and what the numbers rest on.',
  input,
  reads: plannedReads,
  gather: (_, facts) => gatherPlanned(facts),
  answer(gathered, { dams, drone_sources, drones = USUAL_DRONES }): CrossOutlook {
    const pedigree = layStock(gathered);
    if (pedigree === null || drone_sources.length === 0) return { drones, dams: [], assumptions: [] };
    const { sources, assumptions } = sourcesOf(drone_sources, drones, gathered);
    const known = dams.filter((dam) => hasQueen(pedigree, dam));
    const mothers = sources.flatMap((source) =>
      'queen' in source ? [{ queen: source.queen, share: source.share }] : [],
    );
    const outlooks = known.map((dam): DamOutlook => {
      const { inbreeding, sisterRelationship } = plannedCross(pedigree, { daughterOf: dam, sources });
      return {
        dam,
        name: gathered.pedigree.nameOf(dam),
        broodInbreeding: inbreeding,
        sisterRelationship,
        relationship: mothers.length === 0 ? null : relationshipBetween(pedigree, [{ queen: dam, share: 1 }], mothers),
      };
    });
    const rest = restsOn(pedigree, { dams: known, mothers: mothersIn(sources), facts: gathered.pedigree.facts });
    return { drones, dams: outlooks, assumptions: [...assumptions, ...rest] };
  },
});
