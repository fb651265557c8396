import { z } from 'zod';
import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { Link } from '#domain/rearing/chances/readiness.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { combTasks, graftTasks } from '#domain/rearing/raising-tasks.ts';
import type { DayChances, DaysFacts } from '#domain/rearing/reality/day-chances.ts';
import type { GoodQueens } from '#domain/rearing/reality/good-queens.ts';
import { type Moved, movedTasks } from '#domain/rearing/reality/moved-tasks.ts';
import { gatherNames, nameReads } from '#gather/names.ts';
import { gatherSeason, ownProfile, type SeasonBook, type SeasonCross, seasonReads } from '#gather/season.ts';
import { barAsPlanned, gatherBars, type SeasonBar } from '#gather/season-bars.ts';
import { combAsPlanned, gatherCombs, type SeasonComb } from '#gather/season-combs.ts';
import { seasonDays as daysOf, type SeasonDay } from '#gather/season-days.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { addDays, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type Question, question } from '../../mechanism/question.ts';

const input = z.strictObject({ today: dayShape });

/** One thing that must suffice, with twenty equally likely outcomes. */
export type ShownLink = Link & { name: string; dots: number[] };

/** One insemination day: its crosses, the chance that both sexes suffice, and each link of it. */
export type ShownDay = {
  on: Day;
  crosses: { id: RecordId; code: string; queens: number }[];
  chance: number;
  links: ShownLink[];
  weakest: number | null;
  good: GoodQueens;
  wanted: number;
  /** Names of mothers for whom nothing is planned or raised: then there is no chance to tell yet. */
  missing: string[];
  /** Bars and combs that should be there by now and nobody wrote down or ticked: the chance takes them as begun today. */
  overdue: { side: 'queens' | 'drones'; mother: string; planned: Day }[];
  /** The chance if what is overdue had been done as planned; `null` where nothing is. */
  asPlanned: number | null;
};

/** A bar or combs of the plan, beside what became of them: the ghost and what stands now. */
export type ShownRaising = {
  id: string;
  side: 'queens' | 'drones';
  mother: string;
  /** Larvae, or combs. */
  amount: number;
  planned: Day;
  /** The bar or comb it became. */
  record: { id: string; code: string } | null;
  /** Its day is past, and it was neither written down nor ticked: its life is reckoned from today. */
  overdue: boolean;
  /** The day it was grafted, or its first eggs should have been and were laid. */
  actual: Day | null;
  later: number;
  accepted: number | null;
  emerged: number;
  crosses: { code: string; amount: number }[];
  /** Tasks still open that are no longer where the plan had them. */
  moved: Moved[];
  /** Its life as days: brood begins, out, of the preferred age, usable at all. */
  life: { begun: Day; out: Day; outTo: Day; ripe: Day; ripeTo: Day; usableTo: Day };
  was: { begun: Day; out: Day; ripe: Day; ripeTo: Day } | null;
};

export type SeasonDays = { days: ShownDay[]; raising: ShownRaising[] };

type Gathered = {
  book: SeasonBook;
  bars: SeasonBar[];
  combs: SeasonComb[];
  tasks: Row<'task'>[];
  names: (id: string) => string;
};

/** Kinds the days of a season are read from. */
export const seasonDayReads = [...seasonReads, ...nameReads, 'task'] as const;

/** Reads the season with everything raised or planned for it. */
export async function gatherSeasonDays(facts: Parameters<typeof gatherSeason>[0], today: Day): Promise<Gathered> {
  const book = await gatherSeason(facts, today);
  const ownOf = (uses: ReadonlyMap<RecordId, number>) => ownProfile(book.crosses, uses);
  return {
    book,
    bars: await gatherBars(facts, today, ownOf),
    combs: await gatherCombs(facts, { today, usual: book.profile, ownOf }),
    tasks: (await facts.find('task')).filter(({ planned_graft, planned_comb }) => planned_graft ?? planned_comb),
    names: await gatherNames(facts),
  };
}

function shownDay(day: SeasonDay, { readiness, dots, good }: DayChances, { names }: Gathered): ShownDay {
  const links = readiness.links.map((link, i) => ({ ...link, name: names(link.mother), dots: dots[i] ?? [] }));
  const { weakest } = readiness;
  const isWeakest = ({ side, mother }: Link) => side === weakest?.side && mother === weakest.mother;
  return {
    on: day.on,
    crosses: day.crosses.map(({ row }) => ({ id: row.id, code: row.code, queens: row.queens_wanted })),
    chance: readiness.chance,
    links,
    weakest: weakest === null ? null : readiness.links.findIndex(isWeakest),
    good,
    wanted: day.crosses.reduce((sum, { row }) => sum + row.queens_wanted, 0),
    missing: day.missing.map(names),
    overdue: [],
    asPlanned: null,
  };
}

const codesOf = (uses: ReadonlyMap<RecordId, number>, { crosses }: SeasonBook) =>
  [...uses].flatMap(([id, amount]) => {
    const cross = crosses.find(({ row }) => row.id === id);
    return cross === undefined ? [] : [{ code: cross.row.code, amount }];
  });

type Followed = Parameters<typeof movedTasks>[0];

function movesOf(planned: Followed, rows: readonly Row<'task'>[]): Moved[] {
  const open = rows.filter(({ done_on, cancelled }) => done_on === null && cancelled !== 1);
  const keys = new Set(open.map(({ key }) => key));
  const now = open.map(({ key, span_from, span_to }) => ({ key, from: span_from, to: span_to }));
  return movedTasks(
    planned.filter(({ key }) => keys.has(key)).map(({ key, from, to }) => ({ key, from, to })),
    now,
  );
}

function queenLife(grafted: Day, emerged: Day | undefined, { timings, queens }: BiologyProfile) {
  const out = emerged ?? addDays(grafted, timings.graftToEmergence.value);
  const at = (age: number) => addDays(out, age);
  return {
    begun: grafted,
    out,
    outTo: out,
    ripe: at(queens.preferred.from),
    ripeTo: at(queens.preferred.to),
    usableTo: at(queens.hard.to),
  };
}

function shownBar(bar: SeasonBar, rows: readonly Row<'task'>[], { book, names }: Gathered): ShownRaising {
  const { planned, graft, state } = bar;
  const profile = state.profile ?? book.profile;
  const day = planned?.day ?? state.grafted;
  const life = queenLife(state.grafted, state.emerged, profile);
  const was = queenLife(day, undefined, profile);
  const moved = planned === null ? [] : movesOf(graftTasks(planned.day, profile), rows);
  return {
    id: bar.id,
    side: 'queens',
    mother: names(bar.dam),
    amount:
      graft === null
        ? (planned?.larvae ?? 0)
        : state.count.after === 'grafted'
          ? state.count.left
          : (graft.larvae ?? 0),
    planned: day,
    record: graft === null ? null : { id: graft.id, code: graft.code },
    overdue: bar.late,
    actual: graft === null ? null : graft.day,
    later: daysBetween(day, graft?.day ?? state.grafted),
    accepted: bar.accepted,
    emerged: bar.emerged,
    crosses: codesOf(bar.uses, book),
    moved,
    life,
    was: was.out === life.out && was.begun === life.begun ? null : was,
  };
}

function droneLife(lot: DroneLot, { timings, drones }: BiologyProfile) {
  const brood = timings.droneEggToEmergence.value;
  const [out, outTo] =
    'laidFrom' in lot ? [addDays(lot.laidFrom, brood), addDays(lot.laidTo, brood)] : [lot.emergedFrom, lot.emergedTo];
  return {
    begun: addDays(out, -brood),
    out,
    outTo,
    ripe: addDays(out, drones.preferred.from),
    ripeTo: addDays(outTo, drones.preferred.to),
    usableTo: addDays(outTo, drones.hard.to),
  };
}

function shownComb(comb: SeasonComb, rows: readonly Row<'task'>[], { book, names }: Gathered): ShownRaising {
  const { planned, comb: hung } = comb;
  const profile = comb.lot.profile ?? book.profile;
  const life = droneLife(comb.lot, profile);
  const due = planned === null ? life.begun : addDays(planned.in_on, profile.timings.combLead.value);
  const later = daysBetween(due, life.begun);
  const shift = (day: Day) => addDays(day, -later);
  const [first] = comb.mothers;
  return {
    id: hung === null ? comb.id : `${comb.id} ${hung.id}`,
    side: 'drones',
    mother: first === undefined ? '' : names(first),
    amount: comb.combs,
    planned: planned?.in_on ?? hung?.in_on ?? life.begun,
    record: hung === null ? null : { id: hung.id, code: hung.code },
    overdue: comb.late,
    actual: hung?.laid_from ?? hung?.in_on ?? null,
    later,
    accepted: null,
    emerged: hung?.emerged_count ?? 0,
    crosses: codesOf(comb.uses, book),
    moved: planned === null ? [] : movesOf(combTasks(planned.in_on, profile), rows),
    life,
    was:
      later === 0
        ? null
        : { begun: shift(life.begun), out: shift(life.out), ripe: shift(life.ripe), ripeTo: shift(life.ripeTo) },
  };
}

/** What of the raising for a day's crosses should be there by now. */
const overdueFor = (crosses: readonly SeasonCross[], raising: readonly ShownRaising[]): ShownDay['overdue'] =>
  raising
    .filter((one) => one.overdue && one.crosses.some(({ code }) => crosses.some(({ row }) => row.code === code)))
    .map(({ side, mother, planned }) => ({ side, mother, planned }));

/** Raising that still matters on or after a day. */
const isStillOf =
  (today: Day) =>
  ({ life }: ShownRaising) =>
    life.usableTo >= today;

/** Every insemination day to come: the chance that both sexes suffice, link by link; and all bars and combs beside what was planned. */
export const seasonDays: Question<z.infer<typeof input>, Gathered, SeasonDays> = question({
  name: 'season-days',
  what: 'Every insemination day to come with the chance that both sexes suffice, its weakest link, and what was planned beside what was raised.',
  input,
  reads: seasonDayReads,
  gather: ({ today }, facts) => gatherSeasonDays(facts, today),
  async answer(gathered, { today }, compute) {
    const { book, bars, combs, tasks } = gathered;
    const { profile } = book;
    const owned = groupBy(tasks, ({ planned_graft, planned_comb }) => (planned_graft ?? planned_comb) as string);
    const rowsOf = (planned: { id: string } | null) => (planned === null ? [] : (owned.get(planned.id) ?? []));
    const raising = [
      ...combs.map((comb) => shownComb(comb, rowsOf(comb.planned), gathered)),
      ...bars.map((bar) => shownBar(bar, rowsOf(bar.planned), gathered)),
    ];
    const days = daysOf(book, { bars, combs, profile }, today);
    const asPlanned = daysOf(
      book,
      { bars: bars.map(barAsPlanned), combs: combs.map((comb) => combAsPlanned(comb, today)), profile },
      today,
    );
    const overdue = days.map(({ crosses }) => overdueFor(crosses, raising));
    const plans = [
      ...days.map(({ plan }) => plan),
      ...asPlanned.filter((_, i) => overdue[i]?.length !== 0).map(({ plan }) => plan),
    ];
    const facts: DaysFacts = { plans, profile };
    const chances = days.length === 0 ? [] : await compute.run<DayChances[]>('season-days', facts);
    const otherwise = chances.slice(days.length);
    return {
      days: days.flatMap((day, i) => {
        const its = chances[i];
        if (its === undefined) return [];
        const late = overdue[i] ?? [];
        const other = late.length === 0 ? undefined : otherwise.shift();
        return [{ ...shownDay(day, its, gathered), overdue: late, asPlanned: other?.readiness.chance ?? null }];
      }),
      raising: raising.filter(isStillOf(today)).sort((a, b) => (a.life.ripe < b.life.ripe ? -1 : 1)),
    };
  },
});
