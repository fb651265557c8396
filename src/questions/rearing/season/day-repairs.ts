import { z } from 'zod';
import type { MendingFacts } from '#domain/rearing/reality/day-chances.ts';
import type { Repair } from '#domain/rearing/reality/repair.ts';
import { limitsOf, repairCostsOf, seasonOn } from '#gather/season.ts';
import { barAsPlanned, type SeasonBar } from '#gather/season-bars.ts';
import { combAsPlanned } from '#gather/season-combs.ts';
import { seasonDays as daysOf } from '#gather/season-days.ts';
import { dayShape } from '#records/field.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { type Question, question } from '../../mechanism/question.ts';
import { gatherSeasonDays, seasonDayReads } from './season-days.ts';

const input = z.strictObject({ today: dayShape, on: dayShape });

/** A way to mend a day, in the words of its act, with names for a person, its cost in queens and the chance it brings. */
export type OfferedRepair = (
  | { kind: 'graft-more'; dam: string; larvae: number; day: Day; queenAge: number }
  | { kind: 'other-drones'; instead: string; mother: string }
  | { kind: 'move-day'; to: Day }
  | { kind: 'fewer-queens'; dam: string | null; queens: number; wanted: number }
) & { cost: number; chance: number; mends: boolean };

export type DayRepairs = {
  chance: number | null;
  repairs: OfferedRepair[];
  names: Record<string, string>;
  /** They are reckoned as if what is late had been done as planned, for begun today nothing would mend the day. */
  asPlanned: boolean;
};

/** Chances are told to one in twenty; a link this little below what is asked for is not worth an act. */
const SLACK = 0.02;
const MOST_OFFERED = 4;

function offered(repair: Repair, wanted: number, sure: number): OfferedRepair {
  const { cost, readiness } = repair;
  const rest = { cost, chance: readiness.chance, mends: readiness.links.every(({ chance }) => chance >= sure) };
  if (repair.kind === 'graft-more') {
    const { kind, dam, larvae, on, queenAge } = repair;
    return { kind, dam, larvae, day: on, queenAge, ...rest };
  }
  if (repair.kind === 'other-drones')
    return { kind: repair.kind, instead: repair.instead, mother: repair.mother, ...rest };
  if (repair.kind === 'move-day') return { kind: repair.kind, to: repair.to, ...rest };
  return { kind: repair.kind, dam: repair.dam, queens: repair.queens, wanted, ...rest };
}

/** One of a kind each, the cheapest that mends first: four moves of the day are one choice too many. */
function bestOfEach(repairs: readonly Repair[]): Repair[] {
  const seen = new Set<string>();
  return repairs.filter(({ kind, ...rest }) => {
    const name = kind === 'other-drones' && 'mother' in rest ? `${kind} ${rest.mother}` : kind;
    if (seen.has(name)) return false;
    seen.add(name);
    return true;
  });
}

/** A starter takes another bar within so many days of the last graft. */
const STARTER_STANDS = 5;

/** Whether a starter stands: somebody grafted into one a few days ago. */
const hasStarter = (bars: readonly SeasonBar[], today: Day): boolean =>
  bars.some(({ graft }) => {
    const ago = graft === null ? -1 : daysBetween(graft.day, today);
    return ago >= 0 && ago <= STARTER_STANDS;
  });

type Gathered = Awaited<ReturnType<typeof gatherSeasonDays>>;

/** The plan of a day if what is late had been done as planned; nothing where nothing is late. */
function planIfDone({ book, bars, combs }: Pick<Gathered, 'book' | 'bars' | 'combs'>, of: { today: Day; on: Day }) {
  if (![...bars, ...combs].some(({ late }) => late)) return undefined;
  const raised = { bars: bars.map(barAsPlanned), combs: combs.map((comb) => combAsPlanned(comb, of.today)) };
  return daysOf(book, { ...raised, profile: book.profile }, of.today).find(({ on }) => on === of.on)?.plan;
}

/** Ways to mend an insemination day in doubt, the cheapest first; none when it is sure enough or nothing helps. */
export const dayRepairs: Question<z.infer<typeof input>, Gathered, DayRepairs> = question({
  name: 'day-repairs',
  what: 'Ways to mend an insemination day in doubt: graft more, other drones, a later day, fewer queens; the cheapest first.',
  input,
  reads: seasonDayReads,
  gather: ({ today }, facts) => gatherSeasonDays(facts, today),
  async answer({ book, bars, combs, names }, { today, on }, compute) {
    const { profile } = book;
    const day = daysOf(book, { bars, combs, profile }, today).find((one) => one.on === on);
    if (day === undefined) return { chance: null, repairs: [], names: {}, asPlanned: false };
    const season = seasonOn(book.seasons, today);
    const sure = (season?.sure ?? 0.9) - SLACK;
    const blockedDays = season === null ? [] : limitsOf(season, book.daysOff).blockedDays;
    const means = {
      costs: repairCostsOf(season),
      today,
      profile,
      sure,
      otherDrones: day.others,
      blockedDays,
      starterReady: hasStarter(bars, today),
    };
    const waysFor = (plan: MendingFacts['plan']) =>
      compute.run<{ chance: number; repairs: Repair[] }>('day-repairs', { plan, means } satisfies MendingFacts);
    const found = await waysFor(day.plan);
    const planned = found.repairs.length > 0 ? undefined : planIfDone({ book, bars, combs }, { today, on });
    const ways = planned === undefined ? found.repairs : (await waysFor(planned)).repairs;
    const repairs = bestOfEach(ways).slice(0, MOST_OFFERED);
    const wantedOf = (repair: Repair) =>
      day.plan.queens
        .filter(({ dam }) => repair.kind !== 'fewer-queens' || repair.dam === null || repair.dam === dam)
        .reduce((sum, { wanted }) => sum + wanted, 0);
    const shown = repairs.map((repair) => offered(repair, wantedOf(repair), sure));
    const ids = shown.flatMap((one) => [
      ...('dam' in one && one.dam !== null ? [one.dam] : []),
      ...('mother' in one ? [one.mother, one.instead] : []),
    ]);
    return {
      chance: found.chance,
      repairs: shown,
      names: Object.fromEntries(ids.map((id) => [id, names(id)])),
      asPlanned: planned !== undefined && shown.length > 0,
    };
  },
});
