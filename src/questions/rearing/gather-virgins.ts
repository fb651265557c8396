import type { QueenFace } from '#domain/marking/queen-face.ts';
import { crossesOfVirgins, virginCrossReads } from '#gather/virgins.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { facedQueens, faceReads } from '../stock/queen-faces.ts';

export const virginReads = [
  ...faceReads,
  ...virginCrossReads,
  'cross_dam',
  'co2_queen',
  'insemination',
] as const satisfies readonly KindName[];

/** A queen raised here who was not inseminated yet. */
export type Virgin = {
  face: QueenFace;
  living: QueenFace['living'];
  emerged: Day | null;
  /** Bar and cell she came from. */
  bar: string | null;
  cell: number | null;
  cross: { id: string; code: string; day: Day | null } | null;
  /** Crosses with a part for her dam that are still to be done on a day after she came out. */
  couldBeFor: string[];
  /** Days after emergence today, and on the insemination day of her cross, or of all crosses she could be for. */
  age: number | null;
  ageOnI: number | null;
  /** Carbon dioxide treatments so far. */
  co2: number;
};

const MOST_AGE = 60;

/** Virgins: queens from cells of the book, or queued for a bench day, of whom no insemination is written and who are young. */
export async function gatherVirgins(facts: Facts, today: Day): Promise<Virgin[]> {
  const { faced } = await facedQueens(facts, today);
  const done = new Set((await facts.find('insemination', { done: 1 })).map(({ queen }) => queen));
  const co2 = groupBy(await facts.find('co2_queen'), ({ queen }) => queen);
  const raisedFor = await crossesOfVirgins(facts);
  const crosses = new Map((await facts.find('cross')).map((cross) => [cross.id, cross]));
  const dated = (await facts.find('cross', { cancelled: null })).filter(
    ({ inseminate_on: on }) => on === null || on >= today,
  );
  const ofDam = groupBy(
    await facts.find('cross_dam', { cross: dated.map(({ id }) => id) }),
    ({ queen }) => queen as string,
  );
  const cells = new Map((await facts.find('graft_cell')).map((cell) => [cell.id, cell]));
  const bars = new Map((await facts.find('graft')).map(({ id, code }) => [id, code]));
  const virgins = faced.flatMap(({ row, face }): Virgin[] => {
    const raised = raisedFor.get(row.id);
    if (done.has(row.id) || (row.cell === null && raised === undefined)) return [];
    const age = row.emerged === null ? null : daysBetween(row.emerged, today);
    if (age !== null && age > MOST_AGE) return [];
    const cross = raised === undefined ? undefined : crosses.get(raised);
    const cell = row.cell === null ? undefined : cells.get(row.cell);
    const couldBeFor = (row.dam === null ? [] : (ofDam.get(row.dam) ?? [])).map((part) => part.cross);
    const days = new Set(
      (cross === undefined ? couldBeFor : [cross.id]).map((id) => crosses.get(id)?.inseminate_on ?? null),
    );
    const [day = null] = days.size === 1 ? days : [];
    return [
      {
        face,
        living: face.living,
        emerged: row.emerged,
        bar: cell === undefined ? null : (bars.get(cell.graft) ?? null),
        cell: cell?.position ?? null,
        cross: cross === undefined ? null : { id: cross.id, code: cross.code, day },
        couldBeFor,
        age,
        ageOnI: day === null || row.emerged === null ? null : daysBetween(row.emerged, day),
        co2: co2.get(row.id)?.length ?? 0,
      },
    ];
  });
  return virgins.sort(byCrossThenAge);
}

const byCrossThenAge = (a: Virgin, b: Virgin) =>
  (a.cross?.day ?? '9999') < (b.cross?.day ?? '9999')
    ? -1
    : (a.cross?.day ?? '9999') > (b.cross?.day ?? '9999')
      ? 1
      : (b.age ?? 0) - (a.age ?? 0);
