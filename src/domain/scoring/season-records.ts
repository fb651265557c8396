/** Readings of a test as one record a queen and year: the rows an evaluation takes, with the readings each value rests on. */
import { addDays, type Day, daysBetween, yearOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { miteGrowth, wintering } from '../worth/traits/season-values.ts';
import type { BelongingReason } from './belonging.ts';
import { ruleOf, STRENGTH, traitRules } from './trait.ts';

/** A reading with whose it is. */
export type OwnedReading = {
  id: string;
  trait: string;
  /** `null`: not judged, or a test begun and not read yet. */
  value: number | null;
  notJudged: string | null;
  method: string | null;
  from: Day | null;
  day: Day;
  yard: string | null;
  /** The queen it is about. */
  queen: string | null;
  /** Only a reading that is hers wholly counts. */
  isHers: boolean;
  why: BelongingReason;
};

/** Why a reading is in no record. */
export type LeftOutReason =
  | Exclude<BelongingReason, 'hers'>
  | 'not-judged'
  | 'not-read-yet'
  | 'other-yard'
  | 'no-yard'
  | 'read-in-detail'
  | 'later-one-counts';

export type LeftOut = { reading: OwnedReading; why: LeftOutReason };

/** A season's value of one trait, in the trait's unit, and the readings it rests on. */
export type SeasonValue = { value: number; readings: readonly OwnedReading[] };

export type SeasonRecord = {
  queen: string;
  year: number;
  yard: string;
  traits: ReadonlyMap<string, SeasonValue>;
};

/** The year a test belongs to when its year begins in `month` (1 January … 12): July makes a southern season one year. */
export const testYear = (on: Day, month: number): number => yearOf(on) - (Number(on.slice(5, 7)) < month ? 1 : 0);

/** A before-winter reading belongs to an after-winter one at most so many days later. */
const LONGEST_WINTER = 270;
/** Mite readings nearer than this say little about growth: fall is counted over at least three weeks (Dietemann and others 2013 § 4.1.1). */
const SHORTEST_GROWTH = 21;

/** The reason a reading cannot count whatever else was read; `null` when it may. */
function whyNot(reading: OwnedReading): LeftOutReason | null {
  if (reading.notJudged !== null) return 'not-judged';
  if (reading.value === null) return 'not-read-yet';
  if (reading.queen === null) return 'nobody';
  if (!reading.isHers) return reading.why === 'hers' ? 'judged' : reading.why;
  return reading.yard === null ? 'no-yard' : null;
}

const byDay = (a: OwnedReading, b: OwnedReading) => (a.day === b.day ? 0 : a.day < b.day ? -1 : 1);

/** The yard most readings of a season were taken in; of equals the later. */
function mainYard(readings: readonly OwnedReading[]): string {
  const counts = groupBy([...readings].sort(byDay).reverse(), ({ yard }) => yard ?? '');
  return [...counts].reduce((most, one) => (one[1].length > most[1].length ? one : most))[0];
}

/** One value for a whole season (from a table) stands only where nothing was read in detail; of several the last entered. */
function seasonOrDetail(readings: readonly OwnedReading[]): { counts: OwnedReading[]; out: LeftOut[] } {
  const detail = readings.filter(({ method }) => method !== 'season');
  const whole = readings.filter(({ method }) => method === 'season');
  const why = detail.length > 0 ? ('read-in-detail' as const) : ('later-one-counts' as const);
  const counts = detail.length > 0 ? detail : whole.slice(-1);
  return { counts, out: whole.filter((one) => !counts.includes(one)).map((reading) => ({ reading, why })) };
}

const valuesOf = (readings: readonly OwnedReading[]) =>
  readings.flatMap(({ value }) => (value === null ? [] : [value]));

/** Growth of the infestation from the first to the last reading of the same kind, at least three weeks apart. */
function growthOf(readings: readonly OwnedReading[]): SeasonValue | null {
  for (const trait of ['mites', 'mite-fall']) {
    const read = readings.filter((one) => one.trait === trait && one.method !== 'season').sort(byDay);
    const [first, last] = [read[0], read.at(-1)];
    if (first === undefined || last === undefined) continue;
    const days = daysBetween(first.day, last.day);
    const value = miteGrowth(first.value ?? 0, last.value ?? 0, days);
    if (days >= SHORTEST_GROWTH && value !== null) return { value, readings: [first, last] };
  }
  return null;
}

type Strengths = readonly OwnedReading[];

/** Bees after winter over bees before it, of the last reading before each. */
function winterOf(after: OwnedReading, strengths: Strengths): SeasonValue | null {
  const earliest = addDays(after.day, -LONGEST_WINTER);
  const before = strengths
    .filter(({ method, day }) => method === 'before-winter' && day < after.day && day >= earliest)
    .sort(byDay)
    .at(-1);
  const value = before === undefined ? null : wintering(before.value ?? 0, after.value ?? 0);
  return before === undefined || value === null ? null : { value, readings: [before, after] };
}

function traitsOf(readings: readonly OwnedReading[], strengths: Strengths, out: LeftOut[]): Map<string, SeasonValue> {
  const traits = new Map<string, SeasonValue>();
  const plain = readings.filter(({ trait }) => trait !== STRENGTH);
  for (const [trait, of] of groupBy(plain, (one) => one.trait)) {
    const { counts, out: beside } = seasonOrDetail(of);
    out.push(...beside);
    const value = ruleOf(trait).season(valuesOf(counts));
    if (value !== null) traits.set(trait, { value, readings: counts });
  }
  const growth = traits.has('mite-growth') ? null : growthOf(readings);
  if (growth !== null) traits.set('mite-growth', growth);
  const after = readings.filter(({ trait, method }) => trait === STRENGTH && method === 'after-winter').sort(byDay)[0];
  const winter = after === undefined || traits.has('wintering') ? null : winterOf(after, strengths);
  if (winter !== null) traits.set('wintering', winter);
  return traits;
}

/**
 * One record a queen and test year, with a season's value of every trait that was read; missing stays missing. A year belongs to the yard most of
 * its readings were taken in. Everything left out is told with its reason.
 * @param month the month a test year begins in, 1-12
 */
export function seasonRecords(
  readings: readonly OwnedReading[],
  { month = 1 }: { month?: number } = {},
): { records: SeasonRecord[]; leftOut: LeftOut[] } {
  const leftOut: LeftOut[] = [];
  const counting = readings.filter((reading) => {
    const why = whyNot(reading);
    if (why !== null) leftOut.push({ reading, why });
    return why === null;
  });
  const records: SeasonRecord[] = [];
  for (const [queen, hers] of groupBy(counting, (reading) => reading.queen as string)) {
    const strengths = hers.filter(({ trait }) => trait === STRENGTH);
    for (const [year, ofYear] of groupBy(hers, ({ day }) => testYear(day, month))) {
      const yard = mainYard(ofYear);
      const here = ofYear.filter((reading) => reading.yard === yard);
      leftOut.push(
        ...ofYear.flatMap((reading) => (reading.yard === yard ? [] : [{ reading, why: 'other-yard' as const }])),
      );
      const traits = traitsOf(here, strengths, leftOut);
      if (traits.size > 0) records.push({ queen, year, yard, traits });
    }
  }
  records.sort((a, b) => a.year - b.year || (a.yard < b.yard ? -1 : a.yard > b.yard ? 1 : a.queen < b.queen ? -1 : 1));
  return { records, leftOut };
}

const rank = new Map(traitRules.map(({ name }, n) => [name, n]));

/** The traits that occur in records, those of the book first in its order. */
export function traitsIn(records: readonly SeasonRecord[]): string[] {
  const all = new Set(records.flatMap(({ traits }) => [...traits.keys()]));
  return [...all].sort((a, b) => (rank.get(a) ?? 99) - (rank.get(b) ?? 99) || (a < b ? -1 : 1));
}
