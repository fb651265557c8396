import type { Day } from '#units/calendar-day.ts';
import type { BiologyProfile } from '../profile.ts';
import type { SeasonWish } from './season-wish.ts';
import type { StandingCombs } from './standing.ts';

/** What is still free on every day; Infinity where nothing limits it. Never below zero: what is promised twice already leaves nothing. */
export type Room = {
  cells: Float64Array;
  ripe: Float64Array;
  nucs: Float64Array;
  bench: Float64Array;
  /** By nest. */
  nests: readonly Float64Array[];
  /** Yards visited anyway, as yard × days + day: another thing done there adds no visit. */
  visits: ReadonlySet<number>;
  /** 1 on days when a yard away from home is visited anyway. */
  away: Uint8Array;
};

/** What of a frame the room is worked out from. `index` counts a day from the first of the frame. */
type Rooms = {
  wish: SeasonWish;
  days: number;
  nests: readonly string[];
  yards: readonly string[];
  index: (on: Day) => number;
  raisingFor: (profile: BiologyProfile | undefined) => {
    larvae: { base: number; perQueen: number };
    ripePerLarva: number;
    ripeAfter: number;
    latestAfter: number;
    combStay: number;
    supplyAfter: Float64Array;
  };
};

const roomOf = (limit: number | null, days: number) => new Float64Array(days).fill(limit ?? Number.POSITIVE_INFINITY);

/** Takes room from one day to another, both included. */
export function takeRoom(room: Float64Array, from: number, to: number, amount: number): void {
  for (let t = Math.max(0, from); t <= to && t < room.length; t++) room[t] = (room[t] ?? 0) - amount;
}

/** Combs that give the µl wanted on a day; one where their day is none to plan with. */
function combsFor({ combs, semen }: StandingCombs, hung: number, on: number, supply: Float64Array): number {
  if (combs !== null || semen === undefined) return combs ?? 1;
  const each = supply[on - hung] ?? 0;
  return each === 0 ? 1 : Math.max(1, Math.ceil(semen.microlitres / each - 1e-9));
}

/** The limits of a season, less what stands already. */
export function freeRoom({ wish, days, nests, yards, index, raisingFor }: Rooms): Room {
  const { limits, standing } = wish;
  const room = {
    cells: roomOf(limits.cells, days),
    ripe: roomOf(limits.incubatorPlaces, days),
    nucs: roomOf(limits.nucs, days),
    bench: roomOf(limits.queensPerDay, days),
    nests: nests.map(() => roomOf(limits.combsPerMother, days)),
  };
  const visits = new Set<number>();
  const away = new Uint8Array(days);
  const visit = (yard: number, day: number) => {
    if (day < 0 || day >= days) return;
    visits.add(yard * days + day);
    if (yard > 0) away[day] = 1;
  };
  const yardOf = (mother: string | undefined) => yards.indexOf(wish.yards?.[mother ?? ''] ?? '');
  for (const bar of standing?.bars ?? []) {
    const graft = index(bar.day);
    const { larvae, ripePerLarva, ripeAfter, latestAfter } = raisingFor(bar.profile);
    const grafted = bar.accepted ?? bar.larvae ?? larvae.base + larvae.perQueen * bar.queens;
    takeRoom(room.cells, graft, graft + limits.cellDays - 1, grafted);
    const ripe = bar.accepted ?? grafted * ripePerLarva;
    takeRoom(room.ripe, graft + ripeAfter, graft + latestAfter, ripe);
    visit(yardOf(bar.dam), graft);
  }
  for (const combs of standing?.combs ?? []) {
    const hung = index(combs.day);
    const on = combs.semen === undefined ? hung : index(combs.semen.on);
    const { supplyAfter, combStay } = raisingFor(combs.profile);
    const count = combsFor(combs, hung, on, supplyAfter);
    const hangsIn = new Set(combs.mothers.map((mother) => wish.nestOf?.[mother] ?? mother));
    nests.forEach((mother, i) => {
      const nest = room.nests[i];
      if (nest !== undefined && hangsIn.has(mother)) takeRoom(nest, hung, hung + combStay - 1, count);
    });
    visit(yardOf(combs.mothers[0]), hung);
  }
  for (const { on, queens, nucs, nucsFrom } of standing?.queens ?? []) {
    takeRoom(room.bench, index(on), index(on), queens);
    takeRoom(room.nucs, index(nucsFrom), index(on) + limits.nucDays, nucs);
    if (queens > 0) visit(0, index(on));
  }
  for (const free of [room.cells, room.ripe, room.nucs, room.bench, ...room.nests])
    for (let t = 0; t < days; t++) free[t] = Math.max(0, free[t] ?? 0);
  return { ...room, visits, away };
}

/** Whether a yard may be visited on a day beside what stands already. */
export const standsInTheWay = (
  { wish, room, days }: Pick<Rooms, 'wish' | 'days'> & { room: Room },
  yard: number,
  day: number,
): boolean => wish.limits.oneYardADay && yard !== 0 && room.away[day] === 1 && !room.visits.has(yard * days + day);
