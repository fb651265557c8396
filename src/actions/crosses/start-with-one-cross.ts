import { z } from 'zod';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { isBarred, planProblems } from './check-plan.ts';
import { planOf, writePlan } from './plan-cross.ts';

const code = z.string().trim().min(1).max(100);

const input = z.strictObject({
  inseminate_on: dayShape,
  queens: z.int().min(0).max(10_000),
  /** Her code; a queen of that code is written down when there is none. */
  queen_mother: code,
  drone_mother: code,
  drones_there: z.boolean().optional(),
  virgins_there: z.boolean().optional(),
});

/** A dose where none is asked for: 8 µl (Cobey, Tarpy and Woyke 2013, J. Apic. Res. 52(4), section 4.3: 8-12 µl). */
const USUAL_DOSE = 8;

/** The living queen of a code, or the last one who bore it. */
async function queenCoded(facts: Facts, wanted: string): Promise<RecordId | null> {
  const bearers = await facts.find('queen', { code: wanted });
  const ended = new Set((await facts.find('fate', { queen: bearers.map(({ id }) => id) })).map(({ queen }) => queen));
  return (bearers.find(({ id }) => !ended.has(id)) ?? bearers.at(-1))?.id ?? null;
}

/** The first letter, or then number, no cross bears yet: the first cross is A. */
async function freeCode(facts: Facts): Promise<string> {
  const taken = new Set((await facts.find('cross')).map((cross) => cross.code));
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  const free = letters.find((letter) => !taken.has(letter));
  if (free !== undefined) return free;
  let n = 1;
  while (taken.has(`X${n}`)) n++;
  return `X${n}`;
}

type Sides = { dam: RecordId; droneMother: RecordId; missing: { id: RecordId; code: string }[] };

/** The two queens, and those of them that have to be written down first. One code on both sides is one queen. */
async function sidesOf(codes: readonly [string, string], { book, newId }: Circumstances): Promise<Sides> {
  const missing: Sides['missing'] = [];
  const find = async (wanted: string): Promise<RecordId> => {
    const known = (await queenCoded(book, wanted)) ?? missing.find((each) => each.code === wanted)?.id;
    if (known !== undefined) return known;
    const id = newId();
    missing.push({ id, code: wanted });
    return id;
  };
  return { dam: await find(codes[0]), droneMother: await find(codes[1]), missing };
}

/** The shortest way in: four answers make two queens, a cross and all its days, in one act. */
export const startWithOneCross = action({
  name: 'start-with-one-cross',
  place: 'crosses',
  what: 'Plan a cross from four answers: day, how many queens, queen mother, drone mother; queens not in the book are added.',
  input,
  async run(given, circumstances) {
    const { book } = circumstances;
    const sides = await sidesOf([given.queen_mother, given.drone_mother], circumstances);
    const plan = planOf({
      cross: {
        code: await freeCode(book),
        queens_wanted: given.queens,
        dose_ul: USUAL_DOSE,
        inseminate_on: given.inseminate_on,
      },
      dams: [sides.dam],
      drone_sources: [{ queen: sides.droneMother }],
      drones_there: given.drones_there,
      virgins_there: given.virgins_there,
    });
    const added = sides.missing.map(({ id, code }) => creating('queen', id, { code }));
    const fresh = new Set(sides.missing.map(({ id }) => id));
    // A queen this act makes is written down because she is there: nothing can be looked up about her yet.
    const problems = (await planProblems(book, plan, circumstances)).filter(
      ({ values }) => !fresh.has(values.id as RecordId),
    );
    if (isBarred(problems, circumstances)) return { changes: [], result: null as never, problems };
    const written = await writePlan(plan, circumstances);
    return { ...written, changes: [...added, ...written.changes], problems };
  },
});
