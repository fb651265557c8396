import type { UsableAges } from '#domain/rearing/profile.ts';
import type { RaisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { addDays, type Day, daysBetween, earlierOf, laterOf } from '#units/calendar-day.ts';

/** A stretch of days, both ends included. */
export type Days = { from: Day; to: Day };

/** What a comb's drones or a bar's queens are on a day: brood, out but not of age, of the preferred age, still usable, past it. */
export type Growth = 'brood' | 'immature' | 'ripe' | 'second' | 'fading';

/** One comb or bar through time. */
export type Lane = {
  key: string;
  /** The record it is drawn from; `null` for what is only planned. */
  id: string | null;
  code: string;
  /** The drone mother, or the dams. */
  who: string;
  parts: (Days & { growth: Growth })[];
  ripe: Days;
  /** The first day a queen may be out of her cell, when it is before the day counted on. */
  earliest: Day | null;
  /** Where the plan had what was raised, when it became otherwise: when it was to begin, and its best days. */
  was: (Days & { begun: Day }) | null;
  /** It is only planned, and goes along when days are moved. */
  goes: boolean;
  /** Days it is late, where nobody wrote down that it was begun: it is drawn as begun today. */
  late: number;
};

/** The ripeness lanes of one insemination day. */
export type Lanes = {
  from: Day;
  to: Day;
  insemination: Day;
  drones: Lane[];
  queens: Lane[];
  /** Days around the insemination day on which both sides are of the preferred age; `null` when they do not meet on it. */
  overlap: Days | null;
};

/** A comb or bar of the book, as far as its lane goes. `begun`: eggs laid, or larvae grafted. */
export type Raised = {
  id: string;
  code: string;
  who: string;
  begun: Days;
  emerged: Days;
  earliest: Day | null;
  /** The day it was planned to begin: the graft, or the first useful eggs. */
  planned?: Day | null;
};

/** A bar or comb of the season plan that is not known to have begun: the graft, or the days of its useful eggs. `goes`: no other cross shares it. */
export type ToRaise = {
  id: string;
  who: string;
  /** As reckoned: today where it is late. */
  begun: Days;
  goes: boolean;
  /** Its day in the plan: the graft, or the comb hung in. */
  due: Day;
  /** Days it is late: its day is past, and nobody wrote down that it was begun. */
  late: number;
};

/** Days a lane is drawn on after it is of no more use. */
const FADES = 6;

type Life = Pick<Raised, 'begun' | 'emerged'>;

function partsOf({ begun, emerged }: Life, { preferred, hard }: UsableAges): Lane['parts'] {
  const ripe = addDays(emerged.from, preferred.from);
  const past = addDays(emerged.to, preferred.to);
  const old = addDays(emerged.to, hard.to);
  return [
    { growth: 'brood', from: begun.from, to: addDays(emerged.from, -1) },
    { growth: 'immature', from: emerged.from, to: addDays(ripe, -1) },
    { growth: 'ripe', from: ripe, to: past },
    { growth: 'second', from: addDays(past, 1), to: old },
    { growth: 'fading', from: addDays(old, 1), to: addDays(old, FADES) },
  ];
}

/** The best days as the plan had them: as much earlier or later as it was to begin; nothing where it began as planned. */
function planOf({ begun, planned }: Pick<Raised, 'begun' | 'planned'>, ripe: Days): Lane['was'] {
  if (planned == null || planned === begun.from) return null;
  const by = daysBetween(begun.from, planned);
  return { begun: planned, from: addDays(ripe.from, by), to: addDays(ripe.to, by) };
}

type Drawn = Omit<Raised, 'id'> & { id: string | null; goes?: boolean; late?: number };

function laneOf(raised: Drawn, ages: UsableAges): Lane {
  const { id, code, who, earliest, emerged, goes = false, late = 0 } = raised;
  const ripe = { from: addDays(emerged.from, ages.preferred.from), to: addDays(emerged.to, ages.preferred.to) };
  const early = earliest !== null && earliest < emerged.from ? earliest : null;
  return {
    key: `${id ?? 'planned'} ${code} ${who}`,
    id,
    code,
    who,
    parts: partsOf(raised, ages),
    ripe,
    earliest: early,
    was: planOf(raised, ripe),
    goes,
    late,
  };
}

/** The lane of a drone comb that is only planned: laid in the useful days of the wish. */
export function plannedComb({ inseminate, droneAge, profile }: Wish, who: string): Lane {
  const { from: youngest, to: oldest } = droneAge ?? profile.usual.droneAge;
  const brood = profile.timings.droneEggToEmergence.value;
  const emerged = { from: addDays(inseminate, -oldest), to: addDays(inseminate, -youngest) };
  const begun = { from: addDays(emerged.from, -brood), to: addDays(emerged.to, -brood) };
  return laneOf({ id: null, code: '', who, begun, emerged, earliest: null, goes: true }, profile.drones);
}

/** The lane of a graft that is only planned. */
export function plannedBar({ inseminate, queenAge, profile }: Wish, who: string): Lane {
  const { value, low } = profile.timings.graftToEmergence;
  const out = addDays(inseminate, -(queenAge ?? profile.usual.queenAge));
  const graft = addDays(out, -value);
  const life = { begun: { from: graft, to: graft }, emerged: { from: out, to: out } };
  return laneOf({ id: null, code: '', who, ...life, earliest: addDays(graft, low), goes: true }, profile.queens);
}

const covers = ({ ripe }: Lane, on: Day) => ripe.from <= on && on <= ripe.to;

/** The days around `on` on which some lane of this side is ripe; `null` when none is ripe on it. */
function ripeAround(lanes: readonly Lane[], on: Day): Days | null {
  const ripe = lanes.filter((lane) => covers(lane, on)).map((lane) => lane.ripe);
  if (ripe.length === 0) return null;
  return { from: ripe.map(({ from }) => from).reduce(earlierOf), to: ripe.map(({ to }) => to).reduce(laterOf) };
}

/** What the two sides of a wish are raised from: combs and bars of the book, and whom to plan for where there is none yet. */
export type Raising = {
  combs: readonly (Raised & { mother: string | null })[];
  bars: readonly Raised[];
  droneMothers: readonly { id: string; name: string }[];
  dams: string;
  /** What the season plan has for it. */
  planned?: { combs: readonly (ToRaise & { mother: string })[]; bars: readonly ToRaise[] };
};

const shifted = ({ from, to }: Days, days: number): Days => ({ from: addDays(from, days), to: addDays(to, days) });

/** The lane of a bar or comb of the season plan, gone along by so many days if it goes; what is late begins today or after it, wherever it goes. */
function laneToCome({ id, who, begun, goes, late }: ToRaise, brood: number, ages: UsableAges, by: number): Lane {
  const going = goes ? by : 0;
  const days = shifted(begun, late > 0 ? Math.max(0, going - late) : going);
  const planned = late > 0 ? addDays(begun.from, -late) : null;
  const drawn = { id: null, code: '', who, begun: days, emerged: shifted(days, brood), earliest: null };
  const lane = laneOf({ ...drawn, goes, late, planned }, ages);
  return { ...lane, key: `planned ${id}` };
}

const unmoved: RaisingShift = { queens: 0, drones: 0 };

/**
 * Lays out the ripeness lanes of a wish: each drone comb and bar of the book by what was seen of it, and what is still only planned
 * where a drone mother has no comb or the dams no bar.
 */
export function lanesOf(wish: Wish, raising: Raising, shift: RaisingShift = unmoved): Lanes {
  const { combs, bars, droneMothers, dams, planned = { combs: [], bars: [] } } = raising;
  const { profile, inseminate } = wish;
  const { droneEggToEmergence, graftToEmergence } = profile.timings;
  const has = (id: string) => [...combs, ...planned.combs].some(({ mother }) => mother === id);
  const drones = [
    ...combs.map((comb) => laneOf(comb, profile.drones)),
    ...planned.combs.map((comb) => laneToCome(comb, droneEggToEmergence.value, profile.drones, shift.drones)),
    ...droneMothers.filter(({ id }) => !has(id)).map(({ name }) => plannedComb(wish, name)),
  ];
  const known = [
    ...bars.map((bar) => laneOf(bar, profile.queens)),
    ...planned.bars.map((bar) => laneToCome(bar, graftToEmergence.value, profile.queens, shift.queens)),
  ];
  const queens = known.length > 0 ? known : [plannedBar(wish, dams)];
  const [d, q] = [ripeAround(drones, inseminate), ripeAround(queens, inseminate)];
  const all = [...drones, ...queens];
  const starts = all.flatMap(({ parts, was }) => [parts[0]?.from ?? [], was?.begun ?? []].flat());
  const ends = all.flatMap(({ parts }) => parts[2]?.to ?? []);
  return {
    from: addDays([...starts, addDays(inseminate, -24)].reduce(earlierOf), -3),
    to: addDays([...ends, addDays(inseminate, 8)].reduce(laterOf), 2),
    insemination: inseminate,
    drones,
    queens,
    overlap: d === null || q === null ? null : { from: laterOf(d.from, q.from), to: earlierOf(d.to, q.to) },
  };
}
