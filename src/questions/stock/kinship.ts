import { z } from 'zod';
import type { Assumption } from '#domain/pedigree/assumption.ts';
import { broodInbreeding, inbreeding, relationship } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { assumptionsOf } from '#domain/pedigree/pedigree.ts';
import { plannedInbreeding } from '#domain/pedigree/planned-cross.ts';
import { assumptionsBehind } from '#domain/stock-book/behind.ts';
import { indexPedigree } from '#domain/stock-book/drone-side.ts';
import { type GatheredPedigree, gatherPedigree, pedigreeReads } from '#gather/pedigree.ts';
import { idShape } from '#records/field.ts';
import { type Question, question } from '../mechanism/question.ts';

/** Effective drones where only a drone mother is named (contracts.md: default 10); they do not change the inbreeding of a cross. */
const DRONES = 10;

const pairInput = z.strictObject({ a: idShape, b: idShape });

/** How related two queens are, and what the numbers rest on. `null` numbers: one of them is not in the book, or its descent loops. */
export type KinshipOfTwo = {
  a: string;
  b: string;
  relationship: number | null;
  coancestry: number | null;
  /** Brood inbreeding if a were inseminated with drones of b. */
  broodOfA: number | null;
  /** And if b were inseminated with drones of a. */
  broodOfB: number | null;
  assumptions: Assumption[];
};

const lay = (gathered: GatheredPedigree): Pedigree | null => gathered.lay().pedigree;

const hasQueen = (pedigree: Pedigree, queen: string) => pedigree.stock.names.queenIndex(queen) >= 0;

const broodWith = (pedigree: Pedigree, queen: string, droneMother: string) =>
  plannedInbreeding(pedigree, { queen, sources: [{ queen: droneMother, share: 1, drones: DRONES }] });

/** How related two queens are. */
export const kinshipOfTwo: Question<z.infer<typeof pairInput>, GatheredPedigree, KinshipOfTwo> = question({
  name: 'kinship-of-two',
  what: 'How related two queens are, how inbred the brood of a cross between them would be, and what that rests on.',
  input: pairInput,
  reads: pedigreeReads,
  gather: (_, facts) => gatherPedigree(facts),
  answer(gathered, { a, b }): KinshipOfTwo {
    const pedigree = lay(gathered);
    const names = { a: gathered.nameOf(a), b: gathered.nameOf(b) };
    if (pedigree === null || !hasQueen(pedigree, a) || !hasQueen(pedigree, b))
      return { ...names, relationship: null, coancestry: null, broodOfA: null, broodOfB: null, assumptions: [] };
    const related = relationship(pedigree, a, b);
    return {
      ...names,
      relationship: related,
      coancestry: related / 2,
      broodOfA: broodWith(pedigree, a, b),
      broodOfB: broodWith(pedigree, b, a),
      assumptions: assumptionsBehind([a, b], indexPedigree(gathered.facts), assumptionsOf(pedigree)),
    };
  },
});

const MOST_IN_GRID = 60;
const gridInput = z.strictObject({
  across: z.array(idShape).max(MOST_IN_GRID),
  down: z.array(idShape).max(MOST_IN_GRID),
  /** `queens`: relationship of two queens. `drones`: brood inbreeding of the queen across with drones of the queen down. */
  measure: z.enum(['queens', 'drones']),
});

/** Kinship of chosen queens with chosen queens or with the drones they would give; rows are `down`. */
export type KinshipGrid = {
  across: { id: string; name: string; inbreeding: number | null }[];
  down: { id: string; name: string }[];
  cells: (number | null)[][];
  assumptions: Assumption[];
};

/** The kinship grid. */
export const kinshipGrid: Question<z.infer<typeof gridInput>, GatheredPedigree, KinshipGrid> = question({
  name: 'kinship-grid',
  what: 'Kinship of chosen queens with chosen queens, or brood inbreeding with the drones these would give.',
  input: gridInput,
  reads: pedigreeReads,
  gather: (_, facts) => gatherPedigree(facts),
  answer(gathered, { across, down, measure }): KinshipGrid {
    const pedigree = lay(gathered);
    const value = (queen: string, other: string) => {
      if (pedigree === null || !hasQueen(pedigree, queen) || !hasQueen(pedigree, other)) return null;
      return measure === 'queens' ? relationship(pedigree, queen, other) : broodWith(pedigree, queen, other);
    };
    const own = (id: string) => (pedigree === null || !hasQueen(pedigree, id) ? null : inbreeding(pedigree, id));
    const index = indexPedigree(gathered.facts);
    return {
      across: across.map((id) => ({ id, name: gathered.nameOf(id), inbreeding: own(id) })),
      down: down.map((id) => ({ id, name: gathered.nameOf(id) })),
      cells: down.map((other) => across.map((queen) => value(queen, other))),
      assumptions: pedigree === null ? [] : assumptionsBehind([...across, ...down], index, assumptionsOf(pedigree)),
    };
  },
});

/** Inbreeding of a queen and of her brood, with what both rest on. */
export type OwnInbreeding = { own: number | null; brood: number | null; assumptions: Assumption[] };

/** {@link OwnInbreeding} from what was gathered. */
export function ownInbreeding(gathered: GatheredPedigree, queen: string): OwnInbreeding {
  const pedigree = lay(gathered);
  if (pedigree === null || !hasQueen(pedigree, queen)) return { own: null, brood: null, assumptions: [] };
  return {
    own: inbreeding(pedigree, queen),
    brood: broodInbreeding(pedigree, queen),
    assumptions: assumptionsBehind([queen], indexPedigree(gathered.facts), assumptionsOf(pedigree)),
  };
}
