import { z } from 'zod';
import type { Assumption } from '#domain/pedigree/assumption.ts';
import { relationship } from '#domain/pedigree/kinship.ts';
import { plannedInbreeding } from '#domain/pedigree/planned-cross.ts';
import { idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';
import {
  gatherPlanned,
  hasQueen,
  layStock,
  type PlannedFacts,
  plannedReads,
  restsOn,
  USUAL_DRONES,
} from './planned-sides.ts';

const MOST = 40;
const input = z.strictObject({ dams: z.array(idShape).max(MOST), drone_mothers: z.array(idShape).max(MOST) });

/** One possible cross: a dam's daughters with drones of one drone mother. */
export type GridCell = { broodInbreeding: number | null; relationship: number | null };

/** Rows are drone mothers, columns dams. */
export type CrossGrid = {
  dams: { id: string; name: string }[];
  droneMothers: { id: string; name: string }[];
  cells: GridCell[][];
  assumptions: Assumption[];
};

/** Every pair of the chosen dams and drone mothers: how inbred the brood of that cross would be. */
export const crossGrid: Question<z.infer<typeof input>, PlannedFacts, CrossGrid> = question({
  name: 'cross-grid',
  what: 'How inbred the brood of every pair of chosen dams and drone mothers would be.',
  input,
  reads: plannedReads,
  gather: (_, facts) => gatherPlanned(facts),
  answer(gathered, { dams, drone_mothers }): CrossGrid {
    const pedigree = layStock(gathered);
    const named = (id: string) => ({ id, name: gathered.pedigree.nameOf(id) });
    const cell = (dam: string, mother: string): GridCell => {
      if (pedigree === null || !hasQueen(pedigree, dam) || !hasQueen(pedigree, mother))
        return { broodInbreeding: null, relationship: null };
      const sources = [{ queen: mother, share: 1, drones: USUAL_DRONES }];
      return {
        broodInbreeding: plannedInbreeding(pedigree, { daughterOf: dam, sources }),
        relationship: relationship(pedigree, dam, mother),
      };
    };
    return {
      dams: dams.map(named),
      droneMothers: drone_mothers.map(named),
      cells: drone_mothers.map((mother) => dams.map((dam) => cell(dam, mother))),
      assumptions:
        pedigree === null ? [] : restsOn(pedigree, { dams, mothers: drone_mothers, facts: gathered.pedigree.facts }),
    };
  },
});
