import { inOrder } from '#domain/living/check.ts';
import { type Verdict, verdictOf } from '#domain/living/check-verdict.ts';
import { type LayingRecord, layingRecord } from '#domain/living/laying-record.ts';
import { livingState } from '#domain/living/living-state.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { gatherLiving, livingReads } from '#gather/living.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import { crossesOfVirgins, virginCrossReads } from '#gather/virgins.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { FacedQueen } from '../stock/queen-faces.ts';

export const crossQueenReads = [
  ...livingReads,
  ...virginCrossReads,
  'insemination_exception',
  'co2_queen',
] as const satisfies readonly KindName[];

/** A queen of a cross, from the virgin raised for it to her first brood. */
export type CrossQueen = {
  face: QueenFace;
  emerged: Day | null;
  /** Carbon dioxide treatments written down for her. */
  co2: number;
  inseminations: { day: Day | null; ul: number | null; done: boolean; why: string | null; exceptions: string[] }[];
  looks: { day: Day; verdict: Verdict }[];
  record: LayingRecord;
};

type Exceptions = ReadonlyMap<string, Row<'insemination_exception'>[]>;

const inseminationOf = (row: Row<'insemination'>, exceptions: Exceptions): CrossQueen['inseminations'][number] => ({
  day: dayOfInsemination(row),
  ul: row.given_ul,
  done: row.done === 1,
  why: row.not_done_why,
  exceptions: (exceptions.get(row.id) ?? []).map(({ kind }) => kind),
});

/** The queens of every cross, by cross: those inseminated in it and those raised or queued for it. */
export async function gatherCrossQueens(
  facts: Facts,
  { faced, today }: { faced: readonly FacedQueen[]; today: Day },
): Promise<Map<string, CrossQueen[]>> {
  const living = await gatherLiving(facts);
  const exceptions = groupBy(await facts.find('insemination_exception'), ({ insemination }) => insemination as string);
  const co2 = groupBy(await facts.find('co2_queen'), ({ queen }) => queen as string);
  const rows = await facts.find('insemination');
  const inseminated = groupBy(rows, ({ queen }) => queen as string);
  const raisedFor = await crossesOfVirgins(facts);
  const crossOf = (id: string): string | null =>
    (inseminated.get(id) ?? []).findLast(({ cross }) => cross !== null)?.cross ?? raisedFor.get(id as never) ?? null;
  const queens = faced.flatMap(({ row, face }) => {
    const cross = crossOf(face.id);
    if (cross === null) return [];
    const mine = (inseminated.get(face.id) ?? []).filter((each) => each.cross === cross || each.cross === null);
    const facts = living.of(face.id);
    const since = mine.filter(({ done }) => done === 1).flatMap((each) => dayOfInsemination(each) ?? [])[0] ?? null;
    const isLost = livingState(facts, today).end?.isLoss ?? false;
    const looks = inOrder(facts.checks).map((check) => ({ day: check.day, verdict: verdictOf(check) }));
    const queen: CrossQueen = {
      face,
      emerged: row.emerged,
      co2: co2.get(face.id)?.length ?? 0,
      inseminations: mine.map((each) => inseminationOf(each, exceptions)),
      looks: looks.filter(({ day }) => since === null || day >= since),
      record: layingRecord({ checks: facts.checks, since, isLost }),
    };
    return [{ cross, queen }];
  });
  const grouped = groupBy(queens, ({ cross }) => cross);
  return new Map([...grouped].map(([cross, members]) => [cross, members.map(({ queen }) => queen)]));
}

/** Of the queens of a cross: how many were inseminated, of how many it is known whether they lay, and how many do. */
export type CrossCount = { raised: number; inseminated: number; known: number; laying: number };

export function countQueens(queens: readonly CrossQueen[]): CrossCount {
  const done = queens.filter(({ inseminations }) => inseminations.some((each) => each.done));
  return {
    raised: queens.length,
    inseminated: done.length,
    known: done.filter(({ record }) => record.laying !== null).length,
    laying: done.filter(({ record }) => record.laying === 'yes').length,
  };
}
