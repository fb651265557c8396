/**
 * The best of all seasons, found by trying every one: whole queens on every day, then for each the cheapest combs. Shares only the frame's figures
 * with the search and the model; slow, for a handful of queens.
 */
import { type Day, daysBetween } from '#units/calendar-day.ts';
import type { BiologyProfile } from '../profile.ts';
import type { SeasonFrame } from './season-frame.ts';
import { type CombPlan, type Placement, type PlannedSeason, worthOf } from './season-plan.ts';

/** Every way to give the slots 0 … most queens, within what each cross wants. */
function* allPlacements(frame: SeasonFrame): Generator<Placement[]> {
  const slots = frame.wish.crosses.flatMap((_, cross) =>
    (frame.daysOf[cross] ?? []).flatMap((day) =>
      [...(frame.ofCross[cross]?.graftsFor[day] ?? [])].map((graft) => ({ cross, day, graft })),
    ),
  );
  const left = frame.wish.crosses.map(({ queens }) => queens);
  function* fill(i: number, chosen: Placement[]): Generator<Placement[]> {
    const slot = slots[i];
    if (slot === undefined) {
      yield [...chosen];
      return;
    }
    for (let queens = 0; queens <= (left[slot.cross] ?? 0); queens++) {
      left[slot.cross] = (left[slot.cross] ?? 0) - queens;
      if (queens > 0) chosen.push({ ...slot, queens });
      yield* fill(i + 1, chosen);
      if (queens > 0) chosen.pop();
      left[slot.cross] = (left[slot.cross] ?? 0) + queens;
    }
  }
  yield* fill(0, []);
}

/** What stands already takes of everything on a day, counted thing by thing. */
function standingOn(t: number, frame: SeasonFrame) {
  const { standing, limits } = frame.wish;
  const at = (on: Day) => daysBetween(frame.first, on);
  const during = (from: number, to: number) => from <= t && t <= to;
  let [cells, ripe, nucs, bench] = [0, 0, 0, 0];
  for (const bar of standing?.bars ?? []) {
    const larvae = bar.accepted ?? bar.larvae ?? 0;
    const { graftToRipe, graftToEmergence } = (bar.profile ?? frame.wish.profile).timings;
    const { accepted } = (bar.profile ?? frame.wish.profile).survivals;
    if (during(at(bar.day), at(bar.day) + limits.cellDays - 1)) cells += larvae;
    if (during(at(bar.day) + graftToRipe.value, at(bar.day) + graftToEmergence.high))
      ripe += bar.accepted ?? larvae * accepted.value;
  }
  for (const one of standing?.queens ?? []) {
    if (during(at(one.nucsFrom), at(one.on) + limits.nucDays)) nucs += one.nucs;
    if (at(one.on) === t) bench += one.queens;
  }
  return { cells, ripe, nucs, bench };
}

/** Days a comb is in the nest: until its eggs of all useful days are sealed. */
const stayOf = ({ timings, usual }: BiologyProfile): number =>
  timings.combLead.value + usual.droneAge.to - usual.droneAge.from + 1 + timings.droneEggToSealed.value;

/** Combs of what stands already in the nest of a mother on a day. */
const nestOn = (t: number, mother: string, frame: SeasonFrame): number =>
  (frame.wish.standing?.combs ?? [])
    .filter(({ mothers, day, profile }) => {
      const hung = daysBetween(frame.first, day);
      return mothers.includes(mother) && hung <= t && t < hung + stayOf(profile ?? frame.wish.profile);
    })
    .reduce((sum, { combs }) => sum + (combs ?? 0), 0);

function timesOf(frame: SeasonFrame, dam: number) {
  const its = frame.ofDam[dam];
  if (its === undefined) throw new RangeError('no such dam');
  return its;
}

function rearingHolds(placements: readonly Placement[], frame: SeasonFrame): boolean {
  const { limits } = frame.wish;
  const bars = new Map<string, { dam: number; graft: number; queens: number }>();
  for (const { cross, graft, queens } of placements) {
    const dam = frame.damOf[cross] ?? 0;
    const bar = bars.get(`${dam}.${graft}`) ?? { dam, graft, queens: 0 };
    bars.set(`${dam}.${graft}`, { ...bar, queens: bar.queens + queens });
  }
  for (let t = 0; t < frame.days; t++) {
    const there = standingOn(t, frame);
    let [cells, ripe, nucs, bench] = [0, 0, 0, 0];
    for (const { dam, graft, queens } of bars.values()) {
      const its = timesOf(frame, dam);
      const larvae = its.larvae.base + its.larvae.perQueen * queens;
      if (graft <= t && t < graft + limits.cellDays) cells += larvae;
      if (graft + its.ripeAfter <= t && t <= graft + its.latestAfter) ripe += larvae * its.ripePerLarva;
    }
    for (const { cross, day, graft, queens } of placements) {
      const its = timesOf(frame, frame.damOf[cross] ?? 0);
      if (graft + its.emergedAfter <= t && t <= day + limits.nucDays) nucs += queens * its.nucsPerQueen;
      if (day === t) bench += queens;
    }
    const over = (used: number, limit: number | null, taken: number) =>
      limit !== null && used > 0 && used + taken > limit + 1e-9;
    if (
      over(ripe, limits.incubatorPlaces, there.ripe) ||
      over(cells, limits.cells, there.cells) ||
      over(nucs, limits.nucs, there.nucs) ||
      over(bench, limits.queensPerDay, there.bench)
    )
      return false;
  }
  return true;
}

/** Subsets of comb days, one comb each, no two of a mother in her nest at once. */
function combChoices(mother: number, days: readonly number[], frame: SeasonFrame): CombPlan[][] {
  const choices: CombPlan[][] = [[]];
  const name = frame.mothers[mother] ?? '';
  const stay = frame.ofMother[mother]?.combStay ?? 0;
  const isFree = (hung: number) =>
    Array.from({ length: stay }, (_, i) => hung + i).every(
      (t) => nestOn(t, name, frame) + 1 <= (frame.wish.limits.combsPerMother ?? Number.POSITIVE_INFINITY),
    );
  for (const hung of days.filter(isFree))
    for (const chosen of [...choices])
      if (chosen.every((comb) => Math.abs(comb.in - hung) >= stay))
        choices.push([...chosen, { mother, in: hung, count: 1, uses: [] }]);
  return choices;
}

/** Whether combs give the semen: with at most one comb alive at a time, each day's need is met by the combs that are ripe, in the order hung. */
function semenHolds(
  wanted: readonly { day: number; microlitres: number }[],
  combs: readonly CombPlan[],
  frame: SeasonFrame,
): boolean {
  const used = combs.map(() => 0);
  return [...wanted]
    .sort((a, b) => a.day - b.day)
    .every(({ day, microlitres }) => {
      let left = microlitres;
      combs.forEach((comb, i) => {
        const supply = frame.ofMother[comb.mother]?.supplyAfter[day - comb.in] ?? 0;
        const share = supply === 0 ? 0 : Math.min(1 - (used[i] ?? 0), left / supply);
        used[i] = (used[i] ?? 0) + share;
        left -= share * supply;
      });
      return left <= 1e-9;
    });
}

function yardsHold(plan: PlannedSeason, frame: SeasonFrame): boolean {
  if (!frame.wish.limits.oneYardADay) return true;
  const away = new Map<number, Set<number>>();
  const { standing, yards } = frame.wish;
  const there = [
    ...(standing?.bars ?? []).map((bar) => [bar.day, yards?.[bar.dam]] as const),
    ...(standing?.combs ?? []).map(({ day, mothers: [mother] }) => [day, yards?.[mother ?? '']] as const),
  ];
  for (const [on, yard] of there) {
    const day = daysBetween(frame.first, on);
    if (yard !== undefined) away.set(day, new Set([...(away.get(day) ?? []), frame.yards.indexOf(yard)]));
  }
  const visits = [
    ...plan.placements.map(({ cross, graft }) => [graft, frame.yardOfDam[frame.damOf[cross] ?? 0] ?? 0] as const),
    ...plan.combs.map((comb) => [comb.in, frame.yardOfMother[comb.mother] ?? 0] as const),
  ];
  return visits.every(([day, yard]) => {
    if (yard === 0) return true;
    const known = away.get(day) ?? new Set([yard]);
    away.set(day, known);
    return known.has(yard);
  });
}

/** Comb choices of each mother that give what she must. */
function* allCombs(placements: readonly Placement[], frame: SeasonFrame): Generator<CombPlan[]> {
  const perMother = frame.mothers.map((_, mother) => {
    const wanted = placements.flatMap(({ cross, day, queens }) =>
      (frame.dronesOf[cross] ?? [])
        .filter((need) => need.mother === mother)
        .map(({ microlitres }) => ({ day, microlitres: microlitres * queens })),
    );
    const days = [...new Set(wanted.flatMap(({ day }) => [...(frame.ofMother[mother]?.combsFor[day] ?? [])]))].sort(
      (a, b) => a - b,
    );
    return combChoices(mother, days, frame).filter((combs) => semenHolds(wanted, combs, frame));
  });
  const combine = (i: number, chosen: CombPlan[]): CombPlan[][] =>
    i === perMother.length ? [chosen] : (perMother[i] ?? []).flatMap((combs) => combine(i + 1, [...chosen, ...combs]));
  yield* combine(0, []);
}

/** The best plan and its worth. */
export function bestByTrying(frame: SeasonFrame): { plan: PlannedSeason; worth: number } {
  let best: { plan: PlannedSeason; worth: number } = { plan: { placements: [], combs: [] }, worth: 0 };
  for (const placements of allPlacements(frame)) {
    const reward = worthOf({ placements, combs: [] }, frame);
    if (reward <= best.worth || !rearingHolds(placements, frame)) continue;
    for (const combs of allCombs(placements, frame)) {
      const plan = { placements, combs };
      const worth = worthOf(plan, frame);
      if (worth > best.worth && yardsHold(plan, frame) && nestsHold(plan, frame)) best = { plan, worth };
    }
  }
  return best;
}

/** Whether a plan keeps every limit but the semen's: days, cross sizes, rearing, nests and yards. */
export function holdsLimits(plan: PlannedSeason, frame: SeasonFrame): boolean {
  const days = plan.placements.every(
    ({ cross, day, graft }) =>
      frame.daysOf[cross]?.includes(day) && frame.ofCross[cross]?.graftsFor[day]?.includes(graft),
  );
  const sizes = frame.wish.crosses.every(
    ({ queens }, cross) =>
      plan.placements.filter((one) => one.cross === cross).reduce((sum, one) => sum + one.queens, 0) <= queens,
  );
  return days && sizes && rearingHolds(plan.placements, frame) && nestsHold(plan, frame) && yardsHold(plan, frame);
}

function nestsHold({ combs }: PlannedSeason, frame: SeasonFrame): boolean {
  const { combsPerMother } = frame.wish.limits;
  return combs.every(({ mother, in: hung }) => {
    const there = combs.filter(
      (one) =>
        frame.mothers[one.mother] === frame.mothers[mother] &&
        one.in <= hung &&
        hung < one.in + (frame.ofMother[one.mother]?.combStay ?? 0),
    );
    const own = there.reduce((sum, one) => sum + one.count, 0);
    const name = frame.mothers[mother] ?? '';
    return combsPerMother === null || own + nestOn(hung, name, frame) <= combsPerMother;
  });
}
