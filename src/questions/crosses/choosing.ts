import { z } from 'zod';
import { inbreeding } from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { plannedInbreeding } from '#domain/pedigree/planned-cross.ts';
import { dayShape, idShape } from '#records/field.ts';
import { type Day, yearOf } from '#units/calendar-day.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherSides, type SideQueen, sideReads } from './cross-sides.ts';
import { gatherPlanned, hasQueen, layStock, type PlannedFacts, plannedReads, USUAL_DRONES } from './planned-sides.ts';

const input = z.strictObject({
  today: dayShape,
  /** Chosen for the queen side and for the drone side. */
  dams: z.array(idShape).max(100),
  drone_mothers: z.array(idShape).max(100),
});

/** A queen one may choose for a cross. */
export type Candidate = SideQueen & {
  /** Full years since she emerged; `null` when her year is not known. */
  age: number | null;
  /** Her own inbreeding. */
  inbreeding: number | null;
  /** Brood inbreeding of her daughters with the chosen drone side; of the chosen dams' daughters with her drones. `null`: none chosen. */
  asDam: number | null;
  asDroneMother: number | null;
  /** Chosen already, and for which side. */
  chosen: 'queen' | 'drone' | 'both' | null;
};

type Gathered = { queens: SideQueen[]; planned: PlannedFacts };

const mean = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;

type Tray = { dams: readonly string[]; droneMothers: readonly string[] };

function kinshipOf(queen: string, { dams, droneMothers }: Tray, pedigree: Pedigree | null) {
  if (pedigree === null || !hasQueen(pedigree, queen)) return { inbreeding: null, asDam: null, asDroneMother: null };
  const brood = (dam: string, mothers: readonly string[]) =>
    plannedInbreeding(pedigree, {
      daughterOf: dam,
      sources: mothers.map((mother) => ({ queen: mother, share: 1 / mothers.length, drones: USUAL_DRONES })),
    });
  return {
    inbreeding: inbreeding(pedigree, queen),
    asDam: droneMothers.length === 0 ? null : brood(queen, droneMothers),
    asDroneMother: mean(dams.map((dam) => brood(dam, [queen]))),
  };
}

const chosenFor = (queen: string, { dams, droneMothers }: Tray): Candidate['chosen'] => {
  if (dams.includes(queen)) return droneMothers.includes(queen) ? 'both' : 'queen';
  return droneMothers.includes(queen) ? 'drone' : null;
};

const ageOf = ({ face }: SideQueen, today: Day): number | null =>
  face.year === null ? null : yearOf(today) - face.year;

/** Queens to choose from for a cross: living ones with age, and how they would go with what is chosen already. */
export const choosing: Question<z.infer<typeof input>, Gathered, { candidates: Candidate[] }> = question({
  name: 'choosing',
  what: 'Queens to choose from for a cross, and how inbred the brood would be with what is chosen already.',
  input,
  reads: [...sideReads, ...plannedReads],
  async gather({ today }, facts) {
    const { queens } = await gatherSides(facts, today);
    return { queens: [...queens.values()], planned: await gatherPlanned(facts) };
  },
  answer({ queens, planned }, { today, dams, drone_mothers }) {
    const pedigree = layStock(planned);
    const known = (ids: readonly string[]) => ids.filter((id) => pedigree !== null && hasQueen(pedigree, id));
    const tray: Tray = { dams: known(dams), droneMothers: known(drone_mothers) };
    const candidates = queens
      .filter(({ face }) => face.living !== 'gone')
      .map(
        (queen): Candidate => ({
          ...queen,
          age: ageOf(queen, today),
          ...kinshipOf(queen.face.id, tray, pedigree),
          chosen: chosenFor(queen.face.id, tray),
        }),
      );
    return { candidates };
  },
});
