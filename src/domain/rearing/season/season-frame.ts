import { meanOf } from '#numeric/chance/factor.ts';
import { addDays, type Day, daysBetween, earlierOf, laterOf } from '#units/calendar-day.ts';
import { type DroneLot, ripeShare } from '../chances/drone-lot.ts';
import { larvaeNeeded, queenShares } from '../chances/queen-losses.ts';
import { chanceOfSemen, meanSemen, type SemenSupply, semenSupply } from '../chances/semen-supply.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { freeRoom, type Room } from './free-room.ts';
import type { CrossWish, SeasonWish } from './season-wish.ts';

/**
 * A season as whole numbers: days are counted from `first`; everything the search and the solver need is worked out once. Both read the same
 * frame, so they agree on what is possible.
 */
export type SeasonFrame = {
  wish: SeasonWish;
  /** Day 0. */
  first: Day;
  /** Number of days in the frame, from the first comb to the last nuc set free. */
  days: number;
  blocked: Uint8Array;
  /** Insemination days by cross, in order. */
  daysOf: readonly (readonly number[])[];
  /** Graft days by insemination day, youngest queens first. */
  graftsFor: readonly Int32Array[];
  /** Comb-in days by insemination day, richest first. */
  combsFor: readonly Int32Array[];
  /** µl one comb surely gives, by the days since it was hung in; 0 where it is not worth planning with. */
  supplyAfter: Float64Array;
  dams: readonly string[];
  mothers: readonly string[];
  damOf: readonly number[];
  dronesOf: readonly (readonly { mother: number; microlitres: number }[])[];
  /** Larvae for a bar that is to give q ready queens: base + perQueen × q, never below the exact number. */
  larvae: { base: number; perQueen: number };
  /** Cells that get ripe of a larva grafted; nucs held for a queen wanted. */
  ripePerLarva: number;
  nucsPerQueen: number;
  /** Days after the graft. */
  ripeAfter: number;
  emergedAfter: number;
  latestAfter: number;
  /** Days a comb stays in the nest of its mother. */
  combStay: number;
  /** Yard visited for a dam's graft, a mother's comb; 0 is home. */
  yardOfDam: readonly number[];
  yardOfMother: readonly number[];
  yards: readonly string[];
  visitWorth: number;
  /** The limits, less what stands already. */
  room: Room;
};

/** Days the queen laid eggs into one comb: as many as the usual window of drone ages is long. */
const laidDays = ({ usual }: BiologyProfile) => usual.droneAge.to - usual.droneAge.from + 1;

/** The day on which a comb hung in on day 0 gives most is looked for over these days after it. */
const COMB_REACH = 80;

/** Less than half of what a comb gives on its best day is no day to plan with. */
const WORTHWHILE = 0.5;

/** µl that one comb surely gives, by the days since it was hung in; 0 on days not worth planning with. */
export function combSupply(profile: BiologyProfile, sure: number): Float64Array {
  const hung = '2001-01-01' as Day;
  const lead = profile.timings.combLead.value;
  const lot: DroneLot = {
    counted: 'cells',
    count: Math.round(profile.yields.cellsPerComb.value),
    laidFrom: addDays(hung, lead),
    laidTo: addDays(hung, lead + laidDays(profile) - 1),
  };
  const ripe = Array.from({ length: COMB_REACH }, (_, after) =>
    meanOf(ripeShare(lot, addDays(hung, after), profile.drones.hard, profile)),
  );
  const best = ripe.indexOf(Math.max(...ripe));
  const supply = semenSupply({ lots: [lot], on: addDays(hung, best), profile });
  const surely = surelyThere(supply, sure);
  const perRipe = surely / (ripe[best] ?? 1);
  return Float64Array.from(ripe, (share) => (share * perRipe >= WORTHWHILE * surely ? share * perRipe : 0));
}

/** µl there with chance `sure`, by halving to one part in a thousand. */
function surelyThere(supply: SemenSupply, sure: number): number {
  let [low, high] = [0, meanSemen(supply)];
  while (chanceOfSemen(high, supply) > sure) [low, high] = [high, 2 * high];
  while (high - low > 1e-3 * high) {
    const middle = (low + high) / 2;
    if (chanceOfSemen(middle, supply) >= sure) low = middle;
    else high = middle;
  }
  return low;
}

/** A straight line over the exact numbers of larvae for 1 … 40 queens: exact at its ends, a larva or two above between. */
export function larvaeLine(profile: BiologyProfile, sure: number): { base: number; perQueen: number } {
  const { queenAge } = profile.usual;
  const shares = queenShares(profile, {
    daysBefore: queenAge + profile.timings.graftToEmergence.value,
    ages: profile.queens.hard,
  });
  const points = [1, 2, 4, 8, 12, 20, 40].map((queens) => ({ queens, larvae: larvaeNeeded(queens, shares, sure) }));
  const [least, most] = [points[2], points.at(-1)];
  const perQueen = ((most?.larvae ?? 0) - (least?.larvae ?? 0)) / ((most?.queens ?? 1) - (least?.queens ?? 0));
  return { base: Math.max(0, ...points.map(({ queens, larvae }) => larvae - perQueen * queens)), perQueen };
}

const unique = (names: readonly string[]): string[] => [...new Set(names)];

/** First day a comb of this season may be hung in: far enough before the first insemination, not before today. */
function firstDay(wish: SeasonWish): Day {
  return addDays(wish.from, -COMB_REACH);
}

function lastDay({ to, limits, profile }: SeasonWish): Day {
  return addDays(to, Math.max(limits.nucDays, profile.usual.holdDays, 14) + 1);
}

/** The figures of a profile that take a moment to work out; the same for every wish with that profile and certainty. */
export type SeasonFigures = { larvae: { base: number; perQueen: number }; supplyAfter: Float64Array };

export const seasonFigures = ({ profile, sure = 0.9 }: Pick<SeasonWish, 'profile' | 'sure'>): SeasonFigures => ({
  larvae: larvaeLine(profile, sure),
  supplyAfter: combSupply(profile, sure),
});

/** Works a wish out into a frame. The wish must not be refused (seasonRefusals). */
export function seasonFrame(wish: SeasonWish, figures: SeasonFigures = seasonFigures(wish)): SeasonFrame {
  const { profile, limits } = wish;
  const { larvae, supplyAfter } = figures;
  const first = firstDay(wish);
  const days = daysBetween(first, lastDay(wish)) + 1;
  const index = (on: Day) => daysBetween(first, on);
  const blocked = new Uint8Array(days);
  for (const on of limits.blockedDays) if (index(on) >= 0 && index(on) < days) blocked[index(on)] = 1;
  const today = wish.today === undefined ? 0 : Math.max(0, index(wish.today));
  const works = (day: number) => day >= today && day < days && blocked[day] === 0;
  const richest = [...supplyAfter.keys()].filter((after) => (supplyAfter[after] ?? 0) > 0);
  richest.sort((a, b) => (supplyAfter[b] ?? 0) - (supplyAfter[a] ?? 0));
  const dams = unique(wish.crosses.map(({ dam }) => dam));
  const mothers = unique(wish.crosses.flatMap(({ drones }) => drones.map(({ mother }) => mother)));
  const yards = unique(['', ...Object.values(wish.yards ?? {})]);
  const yardOf = (mother: string) => yards.indexOf(wish.yards?.[mother] ?? '');
  const { graftToEmergence, graftToRipe, starterLead } = profile.timings;
  const canInseminate = (day: number) => works(day) && works(day - 1) && works(day + profile.usual.holdDays);
  const canGraft = (day: number) => works(day) && works(day - starterLead.value) && works(day + graftToRipe.value);
  const ages = agesOf(profile.queens.preferred);
  const byDay = (list: (day: number) => number[]) =>
    Array.from({ length: days }, (_, day) => Int32Array.from(list(day)));
  const frame = {
    wish,
    first,
    days,
    blocked,
    daysOf: wish.crosses.map((cross) => daysFor(cross, wish, index).filter(canInseminate)),
    graftsFor: byDay((day) => ages.map((age) => day - age - graftToEmergence.value).filter(canGraft)),
    combsFor: byDay((day) => richest.map((after) => day - after).filter(works)),
    supplyAfter,
    dams,
    mothers,
    damOf: wish.crosses.map(({ dam }) => dams.indexOf(dam)),
    dronesOf: wish.crosses.map(({ drones, dose }) => droneNeeds(drones, dose, mothers)),
    larvae,
    ripePerLarva: profile.survivals.accepted.value,
    nucsPerQueen: 1 / profile.survivals.readyQueens.value,
    ripeAfter: graftToRipe.value,
    emergedAfter: graftToEmergence.value,
    latestAfter: graftToEmergence.high,
    combStay: profile.timings.combLead.value + laidDays(profile) + profile.timings.droneEggToSealed.value,
    yardOfDam: dams.map(yardOf),
    yardOfMother: mothers.map(yardOf),
    yards,
    visitWorth: wish.visitWorth ?? 0.02,
  };
  return { ...frame, room: freeRoom(frame, index) };
}

const agesOf = ({ from, to }: AgeWindow) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** µl of each mother for one queen; shares are scaled to 1. What stays in the tip is in the supply of the comb. */
function droneNeeds(drones: CrossWish['drones'], dose: number, mothers: readonly string[]) {
  const total = drones.reduce((sum, { share }) => sum + share, 0);
  return drones.map(({ mother, share }) => ({ mother: mothers.indexOf(mother), microlitres: (dose * share) / total }));
}

function daysFor(cross: CrossWish, wish: SeasonWish, index: (on: Day) => number): number[] {
  const from = index(cross.earliest === undefined ? wish.from : laterOf(cross.earliest, wish.from));
  const to = index(cross.latest === undefined ? wish.to : earlierOf(cross.latest, wish.to));
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
}
