import { meanOf } from '#numeric/chance/factor.ts';
import { addDays, type Day, daysBetween, earlierOf, laterOf } from '#units/calendar-day.ts';
import { type DroneLot, ripeShare } from '../chances/drone-lot.ts';
import { larvaeNeeded, queenShares } from '../chances/queen-losses.ts';
import { chanceOfSemen, meanSemen, type SemenSupply, semenSupply } from '../chances/semen-supply.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { freeRoom, type Room } from './free-room.ts';
import { type CrossWish, type SeasonWish, usualReckoning } from './season-wish.ts';

/** How crosses of one profile are raised, as whole days from the first of a frame. */
export type Raising = {
  profile: BiologyProfile;
  /** Graft days by insemination day, youngest queens first. */
  graftsFor: readonly Int32Array[];
  /** Comb-in days by insemination day, richest first. */
  combsFor: readonly Int32Array[];
  /** µl one comb surely gives, by the days since it was hung in; 0 where it is not worth planning with. */
  supplyAfter: Float64Array;
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
};

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
  /** Every set of times and losses of the season, the usual one first. */
  raisings: readonly Raising[];
  ofCross: readonly Raising[];
  ofDam: readonly Raising[];
  ofMother: readonly Raising[];
  /** Dams and drone mothers, each once for every set of times she is raised by: only what is raised alike can be shared. */
  dams: readonly string[];
  mothers: readonly string[];
  damOf: readonly number[];
  dronesOf: readonly (readonly { mother: number; microlitres: number }[])[];
  /** Nests the combs hang in: one a drone mother, whatever times her combs are counted by; that of a line with one queen is hers. */
  nests: readonly string[];
  nestOf: readonly number[];
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

/** Profiles that say the same are one. */
const keyOf = (profile: BiologyProfile): string => JSON.stringify(profile);

/** Every profile of a wish, the usual one first. */
function profilesIn({ profile, crosses, standing }: Pick<SeasonWish, 'profile' | 'crosses' | 'standing'>) {
  const own = [...crosses, ...(standing?.bars ?? []), ...(standing?.combs ?? [])].flatMap((one) => one.profile ?? []);
  const keys = new Set<string>();
  return [profile, ...own].filter((one) => {
    const isNew = !keys.has(keyOf(one));
    keys.add(keyOf(one));
    return isNew;
  });
}

function lastDay(wish: SeasonWish): Day {
  const held = profilesIn(wish).map(({ usual }) => usual.holdDays);
  return addDays(wish.to, Math.max(wish.limits.nucDays, ...held, 14) + 1);
}

/** The figures of the profiles that take a moment to work out; the same for every wish with those profiles and that certainty. */
export type SeasonFigures = ReadonlyMap<
  string,
  { larvae: { base: number; perQueen: number }; supplyAfter: Float64Array }
>;

export const seasonFigures = (
  wish: Pick<SeasonWish, 'profile' | 'sure'> & Partial<Pick<SeasonWish, 'crosses' | 'standing'>>,
): SeasonFigures => {
  const { sure = 0.9 } = wish;
  const profiles = profilesIn({ crosses: [], ...wish });
  return new Map(
    profiles.map((profile) => [
      keyOf(profile),
      { larvae: larvaeLine(profile, sure), supplyAfter: combSupply(profile, sure) },
    ]),
  );
};

const agesOf = ({ from, to }: AgeWindow) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** A profile worked out for the days of a frame; `works` says on which days somebody can. */
function raisingOf(
  profile: BiologyProfile,
  { larvae, supplyAfter }: { larvae: { base: number; perQueen: number }; supplyAfter: Float64Array },
  { days, works }: { days: number; works: (day: number) => boolean },
): Raising {
  const { graftToEmergence, graftToRipe, starterLead, combLead, droneEggToSealed } = profile.timings;
  const richest = [...supplyAfter.keys()].filter((after) => (supplyAfter[after] ?? 0) > 0);
  richest.sort((a, b) => (supplyAfter[b] ?? 0) - (supplyAfter[a] ?? 0));
  const canGraft = (day: number) => works(day) && works(day - starterLead.value) && works(day + graftToRipe.value);
  const ages = agesOf(profile.queens.preferred);
  const byDay = (list: (day: number) => number[]) =>
    Array.from({ length: days }, (_, day) => Int32Array.from(list(day)));
  return {
    profile,
    graftsFor: byDay((day) => ages.map((age) => day - age - graftToEmergence.value).filter(canGraft)),
    combsFor: byDay((day) => richest.map((after) => day - after).filter(works)),
    supplyAfter,
    larvae,
    ripePerLarva: profile.survivals.accepted.value,
    nucsPerQueen: 1 / profile.survivals.readyQueens.value,
    ripeAfter: graftToRipe.value,
    emergedAfter: graftToEmergence.value,
    latestAfter: graftToEmergence.high,
    combStay: combLead.value + laidDays(profile) + droneEggToSealed.value,
  };
}

/** Things named once for every way they are raised. */
function distinct(things: readonly { name: string; raising: Raising }[]) {
  const found: { name: string; raising: Raising }[] = [];
  const indexOf = ({ name, raising }: { name: string; raising: Raising }) =>
    found.findIndex((one) => one.name === name && one.raising === raising);
  for (const thing of things) if (indexOf(thing) < 0) found.push(thing);
  return { found, indexOf };
}

/** Works a wish out into a frame. The wish must not be refused (seasonRefusals). */
export function seasonFrame(wish: SeasonWish, figures: SeasonFigures = seasonFigures(wish)): SeasonFrame {
  const { limits } = wish;
  const first = firstDay(wish);
  const days = daysBetween(first, lastDay(wish)) + 1;
  const index = (on: Day) => daysBetween(first, on);
  const blocked = new Uint8Array(days);
  for (const on of limits.blockedDays) if (index(on) >= 0 && index(on) < days) blocked[index(on)] = 1;
  const today = wish.today === undefined ? 0 : Math.max(0, index(wish.today));
  const works = (day: number) => day >= today && day < days && blocked[day] === 0;
  const raisings = new Map(
    profilesIn(wish).map((profile) => {
      const its = figures.get(keyOf(profile)) ?? seasonFigures({ ...wish, profile, crosses: [] }).get(keyOf(profile));
      if (its === undefined) throw new RangeError(`no figures for ${profile.name}`);
      return [keyOf(profile), raisingOf(profile, its, { days, works })] as const;
    }),
  );
  const raisingFor = (profile: BiologyProfile = wish.profile): Raising => {
    const found = raisings.get(keyOf(profile));
    if (found === undefined) throw new RangeError(`no profile ${profile.name} in this season`);
    return found;
  };
  const ofCross = wish.crosses.map(({ profile }) => raisingFor(profile));
  const raised = wish.crosses.map((cross, i) => ({ ...cross, raising: ofCross[i] ?? raisingFor() }));
  const dams = distinct(raised.map(({ dam, raising }) => ({ name: dam, raising })));
  const mothers = distinct(
    raised.flatMap(({ drones, raising }) => drones.map(({ mother }) => ({ name: mother, raising }))),
  );
  const nestNamed = (mother: string) => wish.nestOf?.[mother] ?? mother;
  const nests = unique(mothers.found.map(({ name }) => nestNamed(name)));
  const yards = unique(['', ...Object.values(wish.yards ?? {})]);
  const yardOf = ({ name }: { name: string }) => yards.indexOf(wish.yards?.[name] ?? '');
  const canInseminate = (holdDays: number) => (day: number) => works(day) && works(day - 1) && works(day + holdDays);
  const frame = {
    wish,
    first,
    days,
    blocked,
    daysOf: raised.map((cross) =>
      daysFor(cross, wish, index).filter(canInseminate(cross.raising.profile.usual.holdDays)),
    ),
    raisings: [...raisings.values()],
    ofCross,
    ofDam: dams.found.map(({ raising }) => raising),
    ofMother: mothers.found.map(({ raising }) => raising),
    dams: dams.found.map(({ name }) => name),
    mothers: mothers.found.map(({ name }) => name),
    damOf: raised.map(({ dam, raising }) => dams.indexOf({ name: dam, raising })),
    dronesOf: raised.map(({ drones, dose, raising }) =>
      droneNeeds(drones, dose, (mother) => mothers.indexOf({ name: mother, raising })),
    ),
    nests,
    nestOf: mothers.found.map(({ name }) => nests.indexOf(nestNamed(name))),
    yardOfDam: dams.found.map(yardOf),
    yardOfMother: mothers.found.map(yardOf),
    yards,
    visitWorth: wish.visitWorth ?? usualReckoning.visitWorth,
  };
  return { ...frame, room: freeRoom({ ...frame, index, raisingFor }) };
}

/** µl of each mother for one queen; shares are scaled to 1. What stays in the tip is in the supply of the comb. */
function droneNeeds(drones: CrossWish['drones'], dose: number, indexOf: (mother: string) => number) {
  const total = drones.reduce((sum, { share }) => sum + share, 0);
  return drones.map(({ mother, share }) => ({ mother: indexOf(mother), microlitres: (dose * share) / total }));
}

function daysFor(cross: CrossWish, wish: SeasonWish, index: (on: Day) => number): number[] {
  const from = index(cross.earliest === undefined ? wish.from : laterOf(cross.earliest, wish.from));
  const to = index(cross.latest === undefined ? wish.to : earlierOf(cross.latest, wish.to));
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
}
