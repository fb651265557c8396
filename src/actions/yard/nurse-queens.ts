import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { idShape } from '#records/field.ts';
import { kinds } from '#records/kinds.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';
import { foundDead } from './found-dead.ts';
import { ending, openStays } from './where-she-is.ts';

const nursed = z.strictObject({
  queen: idShape,
  cage: idShape.optional(),
  /** The number on the cage, when it is not in the book yet. */
  cage_number: z.string().trim().min(1).max(40).optional(),
  found_dead: z.boolean().optional(),
});
type Nursed = z.infer<typeof nursed>;

const input = z.strictObject({ care: kinds.care.entry, queens: z.array(nursed).min(1).max(500) });

function twice(queens: readonly Nursed[]): Problem[] {
  const seen = new Set<string>();
  return queens.flatMap(({ queen, cage, cage_number }, n) => {
    const place = cage ?? cage_number;
    const problems = [
      ...(seen.has(queen) ? [refuse(`queens.${n}.queen`, 'queen-named-twice', { kind: 'queen', id: queen })] : []),
      ...(place !== undefined && seen.has(place)
        ? [refuse(`queens.${n}.cage_number`, 'cage-named-twice', { cage: place })]
        : []),
    ];
    for (const each of [queen, place]) if (each !== undefined) seen.add(each);
    return problems;
  });
}

/** The cage of a queen: chosen, known by its number, or new. */
async function cageOf(
  { cage, cage_number }: Nursed,
  { book, newId }: Circumstances,
): Promise<{ id: RecordId | null; made: Change[] }> {
  if (cage !== undefined || cage_number === undefined) return { id: cage ?? null, made: [] };
  const [known] = await book.find('cage', { number: cage_number });
  if (known !== undefined) return { id: known.id, made: [] };
  const id = newId();
  return { id, made: [creating('cage', id, { number: cage_number })] };
}

/** She leaves where she was and sits in her cage, unless she sits there already. */
async function caged(
  queen: RecordId,
  cage: RecordId | null,
  on: Circumstances['day'],
  { book, newId }: Circumstances,
): Promise<Change[]> {
  const open = await openStays(book, queen);
  if (cage !== null && open.some((stay) => stay.cage === cage)) return [];
  const stay = { queen, cage, role: 'caged', from_earliest: on, from_latest: on, why: null } as const;
  return [...ending(open, on), ...(cage === null ? [] : [creating('stay', newId(), stay)])];
}

/** Puts queens into their nursing cages or boxes: one act for all of them, the dead picked by cage. */
export const nurseQueens = action({
  name: 'nurse-queens',
  place: 'yard',
  what: 'Put queens into nursing cages or a box, with attendants and temperature; name the dead by their cage.',
  input,
  async run({ care, queens }, circumstances) {
    const problems = twice(queens);
    if (problems.length > 0) return { changes: [], result: null, problems };
    const id = circumstances.newId();
    const changes: Change[] = [creating('care', id, care)];
    for (const each of queens) {
      const { id: cage, made } = await cageOf(each, circumstances);
      const found_dead = each.found_dead === true ? 1 : null;
      changes.push(...made, ...(await caged(each.queen, cage, care.care_from, circumstances)));
      changes.push(creating('care_queen', circumstances.newId(), { care: id, queen: each.queen, cage, found_dead }));
    }
    const dead = queens.filter((each) => each.found_dead === true).map(({ queen }) => queen);
    const span = { from: care.care_from, to: care.care_to ?? circumstances.day };
    changes.push(...foundDead(dead, span, circumstances));
    return { changes, result: { id } };
  },
});
