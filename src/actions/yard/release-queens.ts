import { z } from 'zod';
import type { Change } from '#ports/store.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { doubt, type Problem, refuse, warn } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { action, type Circumstances } from '../mechanism/action.ts';
import { creating, setting } from '../mechanism/recording.ts';
import { doneForAll } from './cross-releases.ts';
import { deadInCare, stillNursed } from './found-dead.ts';
import { ending, headOf, homeOf, openStays } from './where-she-is.ts';

const input = z.strictObject({
  /** The nursing they come from, when they were nursed. */
  care: idShape.optional(),
  day: dayShape.optional(),
  /** How they were let in: directly, behind candy, in a push-in cage … in the breeder's own words. */
  method: z.string().trim().min(1).max(200).optional(),
  /** An excluder goes on each entrance. */
  excluder: z.boolean().optional(),
  home: z.array(z.strictObject({ queen: idShape, colony: idShape })).max(500),
  /** Queens found dead when the cages were opened. */
  dead: z.array(idShape).max(500).optional(),
});
type Input = z.infer<typeof input>;

/** What is odd about a queen going into a colony: another queen heads it, or it is not the nuc she came from. */
export async function oddHome(
  { queen, colony }: Input['home'][number],
  path: string,
  { book }: Circumstances,
): Promise<Problem[]> {
  const head = await headOf(book, colony);
  const other = head === null || head === queen ? null : await book.get('queen', head);
  const taken =
    other === null ? [] : [doubt(path, 'colony-has-a-queen', { kind: 'colony', id: colony, code: other.code ?? '–' })];
  const home = await homeOf(book, queen);
  const came = home === null || home === colony ? null : await book.get('colony', home);
  return [
    ...taken,
    ...(came === null ? [] : [warn(path, 'not-the-nuc-she-left', { kind: 'colony', id: colony, code: came.code })]),
  ];
}

function atOnce({ home, dead = [] }: Input): Problem[] {
  const gone = new Set(dead);
  const places = new Set<RecordId>();
  return home.flatMap(({ queen, colony }, n) => {
    const twice = places.has(colony)
      ? [refuse(`home.${n}.colony`, 'two-queens-one-nuc', { kind: 'colony', id: colony })]
      : [];
    places.add(colony);
    return gone.has(queen)
      ? [refuse(`home.${n}.queen`, 'dead-and-let-out', { kind: 'queen', id: queen }), ...twice]
      : twice;
  });
}

/** Her stay at the head of the colony begins, and an introduction nobody has judged yet. */
export async function letIn(
  { queen, colony }: { queen: RecordId; colony: RecordId },
  how: { day: Day; method?: string | undefined; excluder?: boolean | undefined; accepted?: 0 | 1 | undefined },
  { book, newId }: Circumstances,
): Promise<Change[]> {
  const { day, method = null, excluder, accepted = null } = how;
  const excluderOn = excluder === undefined ? null : excluder ? 1 : 0;
  const stay = { queen, colony, role: 'heads', from_earliest: day, from_latest: day } as const;
  return [
    ...ending(await openStays(book, queen), day),
    creating('stay', newId(), stay),
    creating('introduction', newId(), { queen, colony, day, method, accepted, excluder: excluderOn }),
  ];
}

/** A nursing ends when nobody is left in it. */
async function endsCare(care: Row<'care'> | null, given: Input, day: Day, { book }: Circumstances): Promise<Change[]> {
  if (care === null) return [];
  const out = new Set([...given.home.map(({ queen }) => queen), ...(given.dead ?? [])]);
  const left = (await stillNursed(book, care)).filter((queen) => !out.has(queen));
  return left.length > 0 ? [] : [setting('care', care.id, { care_to: day })];
}

/** Queens let in by this act or before. */
async function letInSoFar(queens: readonly RecordId[], day: Day, { book }: Circumstances): Promise<Set<RecordId>> {
  const before = (await book.find('introduction')).filter((each) => each.day <= day);
  return new Set([...queens, ...before.map(({ queen }) => queen)]);
}

/** Lets queens out, each into her own nuc; the dead found on opening are written down with it. One act for all. */
export const releaseQueens = action({
  name: 'release-queens',
  place: 'yard',
  what: 'Let queens out of the nursing cage, each into her own nuc, and name the dead.',
  input,
  async run(given, circumstances) {
    const refused = atOnce(given);
    if (refused.length > 0) return { changes: [], result: null, problems: refused };
    const { book, day: today } = circumstances;
    const day = given.day ?? today;
    const care = given.care === undefined ? null : await book.get('care', given.care);
    const problems: Problem[] = [];
    const changes: Change[] = care === null ? [] : await deadInCare(care, given.dead ?? [], day, circumstances);
    for (const [n, each] of given.home.entries()) {
      problems.push(...(await oddHome(each, `home.${n}.colony`, circumstances)));
      changes.push(...(await letIn(each, { day, method: given.method, excluder: given.excluder }, circumstances)));
    }
    const queens = given.home.map(({ queen }) => queen);
    const settled = new Set([...(await letInSoFar(queens, day, circumstances)), ...(given.dead ?? [])]);
    changes.push(...(await endsCare(care, given, day, circumstances)));
    changes.push(
      ...(await doneForAll(book, { queens, key: 'release', isSettled: (queen) => settled.has(queen), on: day })),
    );
    return { changes, result: { queens }, problems };
  },
});
