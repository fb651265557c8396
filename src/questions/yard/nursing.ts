import { z } from 'zod';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import type { Facts } from '#ports/store.ts';
import { dayShape } from '#records/field.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { question } from '../mechanism/question.ts';
import { gatherYardBook, type Nuc, type YardBook, yardReads } from './yard-book.ts';

const input = z.strictObject({ today: dayShape });

/** After so many days nobody waits any more for a queen to be written down as home. */
const WAITS = 10;

/** A nuc a queen goes home to. */
export type Home = { id: RecordId; code: string; yard: string | null };

/** A queen in the nursing, her cage, and the nuc she goes home to. */
export type NursedQueen = {
  queen: QueenFace;
  cage: string | null;
  home: Home | null;
  inseminated: Day | null;
  cross: string | null;
  state: 'nursed' | 'dead' | 'out';
};

export type Nursing = Pick<
  Row<'care'>,
  'id' | 'form' | 'care_from' | 'care_to' | 'attendants' | 'attendants_ml' | 'temperature_c'
> & { queens: NursedQueen[] };

export type NursingAnswer = {
  /** Nursings that have not ended, the oldest first. */
  open: Nursing[];
  /** Queens inseminated lately of whom nobody wrote that they are nursed or back in a nuc. */
  waiting: NursedQueen[];
  /** Colonies without a queen, to let one into. */
  queenless: Home[];
  /** Let in, and nobody has said whether the bees took them. */
  unjudged: { introduction: RecordId; queen: QueenFace; home: Home; day: Day }[];
  /** Nucs whose excluder is still on; `eggs` once eggs were seen. */
  excluders: { queen: QueenFace; home: Home; since: Day; eggs: Day | null }[];
};

const homeOfNuc = ({ id, code, yard }: Nuc): Home => ({ id, code, yard: yard?.name ?? null });

/** Where each queen goes home to: as written at the bench, else the colony she headed last. */
async function homes(facts: Facts, { nucs, living }: YardBook): Promise<(queen: string) => Home | null> {
  const standing = new Map<string, Nuc>(nucs.map((nuc) => [nuc.id, nuc]));
  const written = new Map<string, RecordId>();
  for (const { queen, home } of await facts.find('bench_queen')) if (home !== null) written.set(queen, home);
  return (queen) => {
    const headed = living.staysOf(queen).filter(({ colony, role }) => colony !== null && role === 'heads');
    const last = [...headed].sort((a, b) => ((a.from?.latest ?? '') < (b.from?.latest ?? '') ? -1 : 1)).at(-1);
    const nuc = standing.get(written.get(queen) ?? last?.colony ?? '');
    return nuc === undefined ? null : homeOfNuc(nuc);
  };
}

type Told = { home: (queen: string) => Home | null; cages: ReadonlyMap<RecordId, string>; nucs: readonly Nuc[] };
type Last = ReadonlyMap<string, { on: Day; cross: string | null }>;

async function lastDone(facts: Facts, today: Day): Promise<Last> {
  const crosses = new Map((await facts.find('cross')).map(({ id, code }) => [id, code]));
  const last = new Map<string, { on: Day; cross: string | null }>();
  for (const row of await facts.find('insemination', { done: 1 })) {
    const { queen, cross } = row;
    const on = dayOfInsemination(row);
    if (on === null || on > today || (last.get(queen)?.on ?? '') > on) continue;
    last.set(queen, { on, cross: cross === null ? null : (crosses.get(cross) ?? null) });
  }
  return last;
}

async function gatherNursing({ today }: z.infer<typeof input>, facts: Facts): Promise<NursingAnswer> {
  const book = await gatherYardBook(facts, today);
  const cages = new Map((await facts.find('cage')).map(({ id, number }) => [id, number]));
  const told: Told = { home: await homes(facts, book), cages, nucs: book.nucs };
  const last = await lastDone(facts, today);
  const introductions = await facts.find('introduction');
  const let_in = groupBy(introductions, ({ queen }) => queen as string);
  const isOut = (queen: string, since: Day) => (let_in.get(queen) ?? []).some(({ day }) => day >= since);

  const nursed = (queen: RecordId, cage: RecordId | null, state: NursedQueen['state']): NursedQueen[] => {
    const face = book.faces.get(queen);
    if (face === undefined) return [];
    const done = last.get(queen);
    const number = cage === null ? null : (told.cages.get(cage) ?? null);
    return [
      {
        queen: face,
        cage: number,
        home: told.home(queen),
        inseminated: done?.on ?? null,
        cross: done?.cross ?? null,
        state,
      },
    ];
  };
  const members = groupBy(await facts.find('care_queen'), ({ care }) => care);
  const open = (await facts.find('care', { care_to: null })).map((care): Nursing => {
    const rows = members.get(care.id) ?? [];
    const stateOf = ({ queen, found_dead }: Row<'care_queen'>) =>
      found_dead === 1 || book.faces.get(queen)?.living === 'gone'
        ? 'dead'
        : isOut(queen, care.care_from)
          ? 'out'
          : 'nursed';
    return { ...care, queens: rows.flatMap((row) => nursed(row.queen, row.cage, stateOf(row))) };
  });

  const inCare = new Set(open.flatMap(({ queens }) => queens.map(({ queen }) => queen.id)));
  const nursedSince = groupBy(await facts.find('care_queen'), ({ queen }) => queen as string);
  const careFrom = new Map((await facts.find('care')).map(({ id, care_from }) => [id, care_from]));
  const wasNursed = (queen: string, since: Day) =>
    (nursedSince.get(queen) ?? []).some(({ care }) => (careFrom.get(care) ?? '') >= since);
  const wasLooked = (queen: string, since: Day) => book.living.of(queen).checks.some(({ day }) => day > since);
  const caged = new Map<string, RecordId>();
  for (const { queen, cage } of await facts.find('bench_queen')) if (cage !== null) caged.set(queen, cage);
  for (const stay of book.living.stays)
    if (stay.to === null && stay.cage !== null) caged.set(stay.queen, stay.cage as RecordId);
  const waiting = [...last].flatMap(([queen, { on }]) => {
    const isGone = book.faces.get(queen)?.living === 'gone' || inCare.has(queen);
    const isHome = isOut(queen, on) || wasNursed(queen, on) || wasLooked(queen, on);
    if (isGone || isHome || daysBetween(on, today) > WAITS) return [];
    return nursed(queen as RecordId, caged.get(queen) ?? null, 'nursed');
  });
  const judged = book.nucs.filter(({ introduction, head }) => introduction !== null && head !== null);
  const eggsOf = (queen: string) =>
    book.living.of(queen).checks.find(({ sights }) => sights.includes('eggs') || sights.includes('worker-caps'))?.day ??
    null;
  return {
    open,
    waiting,
    queenless: book.nucs.filter(({ head }) => head === null).map(homeOfNuc),
    unjudged: judged.flatMap((nuc) =>
      nuc.introduction === null || nuc.head === null
        ? []
        : [{ introduction: nuc.introduction.id, queen: nuc.head, home: homeOfNuc(nuc), day: nuc.introduction.day }],
    ),
    excluders: book.nucs.flatMap((nuc) =>
      !nuc.excluderOn || nuc.head === null
        ? []
        : [{ queen: nuc.head, home: homeOfNuc(nuc), since: nuc.headSince ?? today, eggs: eggsOf(nuc.head.id) }],
    ),
  };
}

/** Which queens are nursed, in which cage, and which nuc each goes home to; whose excluder is still on. */
export const nursing = question({
  name: 'nursing',
  what: 'Which queens are nursed, in which cage, which nuc each goes home to, and whose excluder is still on.',
  input,
  reads: [...yardReads, 'care', 'care_queen', 'bench_queen'] as readonly KindName[],
  gather: gatherNursing,
  answer: (told: NursingAnswer) => told,
});
