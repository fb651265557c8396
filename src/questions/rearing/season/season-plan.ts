import { z } from 'zod';
import { earliestInsemination } from '#domain/rearing/count-back.ts';
import { type Instead, whatInstead } from '#domain/rearing/reality/what-instead.ts';
import type { CrossWish, SeasonWish } from '#domain/rearing/season/season-wish.ts';
import { seasonRefusals } from '#domain/rearing/season/season-wish.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
import {
  type CrossState,
  crossesIn,
  gatherSeason,
  ownProfile,
  type SeasonBook,
  type SeasonCross,
  seasonOn,
  seasonReads,
  seasonWishOf,
} from '#gather/season.ts';
import { gatherBars, type SeasonBar } from '#gather/season-bars.ts';
import { gatherCombs, lotsByMother, type SeasonComb } from '#gather/season-combs.ts';
import { standingBeside } from '#gather/season-standing.ts';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { type Problem, refuse } from '#units/problem.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../../mechanism/question.ts';

const input = z.strictObject({ today: dayShape, season: idShape.optional() });

/** A cross as the season page lists it, with what it wishes for and what keeps it out of a proposal. */
export type SeasonCrossLine = {
  id: RecordId;
  code: string;
  dams: string[];
  drones: { name: string; share: number }[];
  queens: number;
  dose: number;
  day: Day | null;
  earliest: Day | null;
  latest: Day | null;
  worth: number | null;
  keepDay: boolean;
  /** Times of its own: the name of their set, hours of its larvae, warmth in °C; `null` where the usual ones hold. */
  own: { profile: string; larvaHours: number | null; celsius: number | null } | null;
  state: CrossState;
  problems: Problem[];
  /** The last day it may be done is too near to begin today: what can be done instead, mothers by name. */
  instead: Instead | null;
};

/** What the season page begins with. */
export type SeasonPlanPage = {
  season: Row<'season'> | null;
  seasons: Row<'season'>[];
  daysOff: Row<'day_off'>[];
  crosses: SeasonCrossLine[];
  /** The wish the planner is given; `null` while there is no season or nothing to plan. */
  wish: SeasonWish | null;
  names: Record<string, string>;
  /** The set of times and losses that holds for every cross without its own. */
  usual: string;
};

type Gathered = {
  book: SeasonBook;
  bars: readonly SeasonBar[];
  combs: readonly SeasonComb[];
  names: (id: string) => string;
};

/** Problems of one cross alone: queens who are gone, no queens wanted, shares that do not add up, days that contradict. */
function problemsOf(cross: SeasonCross, wish: SeasonWish | null, names: (id: string) => string): Problem[] {
  if (wish === null || cross.state !== 'free') return [];
  const gone = cross.gone.map((id) =>
    cross.dams.includes(id)
      ? refuse('dams', 'dam-gone', { code: names(id), on: 'none', instead: 'none' })
      : refuse('drone_sources', 'drone-mother-gone', { code: names(id), last: 'none', instead: 'none' }),
  );
  const noDam = cross.dams.length === 0 ? [refuse('dams', 'no-dam')] : [];
  const own = seasonRefusals({ ...wish, crosses: wish.crosses.filter(({ cross: name }) => name === cross.row.id) })
    .filter(({ path }) => path.startsWith('crosses.'))
    .map((problem) => ({ ...problem, values: { ...problem.values, cross: cross.row.code } }));
  return [...gone, ...noDam, ...own];
}

/** What to do about a cross whose last day is too near; `null` where both sides can still be raised for it. */
function insteadOf(
  { row, state, profile }: SeasonCross,
  { book, combs, names }: Gathered,
  { today, end }: { today: Day; end: Day | null },
): Instead | null {
  const latest = row.latest_on === null || (end !== null && end < row.latest_on) ? end : row.latest_on;
  const last = row.keep_day === 1 ? row.inseminate_on : latest;
  const isRaised = combs.some(({ uses }) => uses.has(row.id));
  if (state !== 'free' || last === null || isRaised || last >= earliestInsemination(today, { profile })) return null;
  const waiting = book.crosses.filter(
    (one) => one.row.id !== row.id && (one.state === 'free' || one.state === 'begun'),
  );
  const promised = new Set(waiting.map((one) => one.row.id));
  const instead = whatInstead({
    wish: { inseminate: last, queens: Math.max(1, row.queens_wanted), profile },
    today,
    microlitres: row.queens_wanted * row.dose_ul * (row.doses ?? 1),
    lots: lotsByMother(combs, promised),
  });
  return { ...instead, mothers: instead.mothers.map((one) => ({ ...one, mother: names(one.mother) })) };
}

function lineOf(
  cross: SeasonCross,
  wish: SeasonWish | null,
  { gathered, ...when }: { gathered: Gathered; today: Day; end: Day | null },
): SeasonCrossLine {
  const { row, dams, sources, state } = cross;
  const { names } = gathered;
  return {
    id: row.id,
    code: row.code,
    dams: dams.map(names),
    drones: sources.map(({ id, share }) => ({ name: names(id), share })),
    queens: row.queens_wanted,
    dose: row.dose_ul * (row.doses ?? 1),
    day: row.inseminate_on,
    earliest: row.earliest_on,
    latest: row.latest_on,
    worth: row.worth,
    keepDay: row.keep_day === 1,
    own: cross.own
      ? { profile: cross.profile.name, larvaHours: row.larva_age_hours, celsius: row.brood_celsius }
      : null,
    state,
    problems: problemsOf(cross, wish, names),
    instead: insteadOf(cross, gathered, when),
  };
}

const byDay = (a: SeasonCrossLine, b: SeasonCrossLine) => {
  const [one, other] = [a.day ?? '9999', b.day ?? '9999'];
  return one === other ? (a.code < b.code ? -1 : 1) : one < other ? -1 : 1;
};

/** Crosses on no season's days and yet to come: a season is proposed that holds them. */
function spanOf(crosses: readonly SeasonCross[], today: Day): { from_on: Day; to_on: Day } {
  const days = crosses
    .filter(({ state }) => state === 'free' || state === 'begun')
    .flatMap(({ row }) => [row.inseminate_on, row.earliest_on, row.latest_on])
    .flatMap((day) => (day !== null && day >= today ? [day] : []))
    .sort();
  return { from_on: days[0] ?? addDays(today, 45), to_on: days.at(-1) ?? addDays(today, 90) };
}

/** The season of many crosses: wishes, limits, days off, and the wish the planner is given. */
export const seasonPlan: Question<
  z.infer<typeof input>,
  Gathered,
  SeasonPlanPage & { span: { from_on: Day; to_on: Day } }
> = question({
  name: 'season-plan',
  what: 'The season of many crosses: what each wishes for, what is scarce, days off, and the wish the planner is given.',
  input,
  reads: [...seasonReads, ...nameReads, 'task'],
  async gather({ today }, facts) {
    const book = await gatherSeason(facts, today);
    const ownOf = (uses: ReadonlyMap<RecordId, number>) => ownProfile(book.crosses, uses);
    return {
      book,
      bars: await gatherBars(facts, today, ownOf),
      combs: await gatherCombs(facts, { today, usual: book.profile, ownOf }),
      names: await gatherNames(facts),
    };
  },
  answer(gathered, { today, season: chosen }) {
    const { book, names } = gathered;
    const season = book.seasons.find(({ id }) => id === chosen) ?? seasonOn(book.seasons, today);
    const crosses = season === null ? book.crosses.filter(({ state }) => state === 'free') : crossesIn(book, season);
    const free = crosses.filter(({ state }) => state === 'free');
    const all = season === null ? null : seasonWishOf(book, season, free, today);
    const lines = crosses
      .map((cross) => lineOf(cross, all, { gathered, today, end: season?.to_on ?? null }))
      .sort(byDay);
    const barred = new Set(lines.filter(({ problems }) => problems.length > 0).map(({ id }) => id as string));
    const wanted = free.filter(({ row }) => !barred.has(row.id));
    const standing = standingBeside(book, { ...gathered, today }, new Set(wanted.map(({ row }) => row.id)));
    const wish =
      season === null || wanted.length === 0 ? null : { ...seasonWishOf(book, season, wanted, today), standing };
    return {
      season,
      seasons: [...book.seasons],
      daysOff: [...book.daysOff].sort((a, b) => (a.from_on < b.from_on ? -1 : 1)),
      crosses: lines,
      wish,
      names: namesIn(wish?.crosses ?? [], names),
      usual: book.profile.name,
      span: spanOf(book.crosses, today),
    };
  },
});

const namesIn = (crosses: readonly CrossWish[], names: (id: string) => string): Record<string, string> =>
  Object.fromEntries(
    crosses.flatMap(({ dam, drones }) => [dam, ...drones.map(({ mother }) => mother)]).map((id) => [id, names(id)]),
  );
