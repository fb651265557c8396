import type { LayingCheck } from '#domain/living/check.ts';
import { inOrder } from '#domain/living/check.ts';
import { type NextLook, nextLook } from '#domain/living/next-look.ts';
import type { Stay } from '#domain/living/stay.ts';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { wishOf } from '#gather/cross-plan.ts';
import type { GatheredLiving } from '#gather/living.ts';
import { dayOfInsemination } from '#gather/matings.ts';
import { gatherProfiles, profileReads } from '#gather/profiles.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { facedQueens, faceReads } from '../stock/queen-faces.ts';

export const yardReads = [
  ...faceReads,
  ...profileReads,
  'introduction',
  'cross',
  'insemination',
] as const satisfies readonly KindName[];

/** Her last insemination, as the yard needs it. */
export type Inseminated = { on: Day; days: number; cross: string | null; crossId: RecordId | null };

/** A colony where it stands, who heads it, and what is to be looked at. */
export type Nuc = {
  id: RecordId;
  code: string;
  form: Row<'colony'>['form'];
  since: Day | null;
  yard: { id: RecordId; name: string } | null;
  spot: number | null;
  head: QueenFace | null;
  /** The day her stay at the head of it began, or the last day it may have been. */
  headSince: Day | null;
  inseminated: Inseminated | null;
  lastLook: LayingCheck | null;
  next: NextLook | null;
  /** The excluder is still on its entrance. */
  excluderOn: boolean;
  /** She was let in and nobody has said whether the bees took her. */
  introduction: { id: RecordId; day: Day } | null;
};

/** Everything about yards and nucs, read once. */
export type YardBook = {
  yards: readonly Row<'yard'>[];
  /** Colonies that have not ended, in walking order. */
  nucs: readonly Nuc[];
  faces: ReadonlyMap<string, QueenFace>;
  living: GatheredLiving;
  /** Any colony, also one that has ended. */
  nucOf(colony: Row<'colony'>): Nuc;
};

const natural = (a: string, b: string): number => {
  const parts = (text: string) => text.match(/\d+|\D+/g) ?? [];
  const [x, y] = [parts(a), parts(b)];
  for (let n = 0; n < Math.max(x.length, y.length); n++) {
    const [one, other] = [x[n] ?? '', y[n] ?? ''];
    if (one === other) continue;
    const [p, q] = [Number(one), Number(other)];
    return Number.isNaN(p) || Number.isNaN(q) || one === '' || other === '' ? (one < other ? -1 : 1) : p - q;
  }
  return 0;
};

/** Yards in the order they are walked. */
export const inWalkingOrder = (yards: readonly Row<'yard'>[]): Row<'yard'>[] =>
  [...yards].sort((a, b) => (a.walking_order ?? 1e9) - (b.walking_order ?? 1e9) || natural(a.name, b.name));

type Order = { spot: number | null; code: string };
const bySpot = (a: Order, b: Order) => (a.spot ?? 1e9) - (b.spot ?? 1e9) || natural(a.code, b.code);

async function lastInseminations(facts: Facts, today: Day): Promise<Map<string, Inseminated>> {
  const crosses = new Map((await facts.find('cross')).map((cross) => [cross.id, cross]));
  const last = new Map<string, Inseminated>();
  for (const row of await facts.find('insemination', { done: 1 })) {
    const on = dayOfInsemination(row);
    if (on === null || on > today || (last.get(row.queen)?.on ?? '') > on) continue;
    const cross = row.cross === null ? null : (crosses.get(row.cross)?.code ?? null);
    last.set(row.queen, { on, days: daysBetween(on, today), cross, crossId: row.cross });
  }
  return last;
}

/** The stays that head a colony now, the newest last. */
const headings = (stays: readonly Stay[]): Map<string, Stay[]> =>
  groupBy(
    stays.filter((stay) => stay.to === null && stay.role === 'heads' && stay.colony !== null),
    (stay) => stay.colony as string,
  );

/** Reads yards, colonies, who heads them and what is to be looked at by a day. */
export async function gatherYardBook(facts: Facts, today: Day): Promise<YardBook> {
  const { faced, living } = await facedQueens(facts, today);
  const faces = new Map<string, QueenFace>(faced.map(({ face }) => [face.id, face]));
  const yards = inWalkingOrder(await facts.find('yard'));
  const places = groupBy(await facts.find('colony_place', { stood_to: null }), ({ colony }) => colony);
  const heads = headings(living.stays);
  const inseminated = await lastInseminations(facts, today);
  const profiles = await gatherProfiles(facts);
  const crosses = new Map((await facts.find('cross')).map((cross) => [cross.id, cross]));
  const introductions = groupBy(await facts.find('introduction'), ({ queen }) => queen as string);
  const rank = new Map(yards.map(({ id }, n) => [id, n]));

  const looksSince = (queen: string, since: Day | null) =>
    inOrder(living.of(queen).checks).filter(({ day }) => day <= today && (since === null || day >= since));
  const nextFor = (queen: string, of: Inseminated): NextLook | null => {
    const cross = of.crossId === null ? undefined : crosses.get(of.crossId);
    const wish = cross === undefined ? null : wishOf({ ...cross, inseminate_on: of.on }, profiles);
    const plain = { inseminate: of.on, queens: 1, profile: standardText };
    return nextLook(wish === null ? plain : { ...wish, queens: Math.max(1, wish.queens) }, living.of(queen).checks);
  };

  const nucOf = (colony: Row<'colony'>): Nuc => {
    const place = (places.get(colony.id) ?? []).at(-1);
    const yard = yards.find(({ id }) => id === place?.yard);
    const stay = heads.get(colony.id)?.at(-1);
    const head = stay === undefined ? null : (faces.get(stay.queen) ?? null);
    const of = head === null ? null : (inseminated.get(head.id) ?? null);
    const let_in = (introductions.get(head?.id ?? '') ?? []).filter((each) => each.colony === colony.id);
    const open = let_in.filter(({ accepted }) => accepted === null).at(-1);
    const looks = head === null ? [] : looksSince(head.id, stay?.from?.earliest ?? null);
    return {
      id: colony.id,
      code: colony.code,
      form: colony.form,
      since: colony.since,
      yard: yard === undefined ? null : { id: yard.id, name: yard.name },
      spot: place?.spot ?? null,
      head,
      headSince: stay?.from?.latest ?? null,
      inseminated: of,
      lastLook: looks.at(-1) ?? null,
      next: head === null || of === null || head.living === 'gone' ? null : nextFor(head.id, of),
      excluderOn: let_in.some(({ excluder, excluder_off }) => excluder === 1 && excluder_off === null),
      introduction: open === undefined ? null : { id: open.id, day: open.day },
    };
  };

  const yardRank = ({ yard }: Nuc) => (yard === null ? 1e9 : (rank.get(yard.id) ?? 1e9));
  const standing = (await facts.find('colony', { ended: null })).map(nucOf);
  return { yards, faces, living, nucOf, nucs: standing.sort((a, b) => yardRank(a) - yardRank(b) || bySpot(a, b)) };
}
