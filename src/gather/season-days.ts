import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { DayPlan } from '#domain/rearing/reality/day-plan.ts';
import { type Day, daysBetween } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { combsFor, partOf, wantedOf } from './comb-parts.ts';
import { type SeasonBook, type SeasonCross, wishesOf } from './season.ts';
import type { SeasonBar } from './season-bars.ts';
import type { SeasonComb } from './season-combs.ts';

/** One insemination day of the book: its crosses, what they need and what is raised or planned for them. */
export type SeasonDay = {
  on: Day;
  crosses: readonly SeasonCross[];
  plan: DayPlan;
  /** Dams and drone mothers for whom nothing is planned or raised. */
  missing: readonly RecordId[];
  /** Drones of other mothers that nobody has a use for. */
  others: readonly { mother: RecordId; lots: readonly DroneLot[] }[];
};

type Raised = { bars: readonly SeasonBar[]; combs: readonly SeasonComb[]; profile: BiologyProfile };
type Need = { cross: RecordId; dam: RecordId; queens: number };

const needsOf = (cross: SeasonCross): Need[] =>
  wishesOf(cross).map(({ dam, queens }) => ({ cross: cross.row.id, dam: dam as RecordId, queens }));

/** Whether a bar nobody gave to a cross could serve one on that day. */
function isOfAge({ state }: SeasonBar, on: Day, usual: BiologyProfile): boolean {
  const { timings, queens } = state.profile ?? usual;
  const age = daysBetween(state.grafted, on) - timings.graftToEmergence.value;
  return age >= queens.hard.from && age <= queens.hard.to;
}

/** Queens of one dam on a day; a bar that serves crosses of several days must give the queens of all of them. */
function queensOf(
  on: Day,
  dam: RecordId,
  today: readonly Need[],
  all: readonly Need[],
  raised: Raised,
): DayPlan['queens'][number] {
  const here = new Set(today.filter((need) => need.dam === dam).map(({ cross }) => cross));
  const bars = raised.bars.filter(
    (bar) =>
      bar.dam === dam &&
      (bar.uses.size === 0 ? isOfAge(bar, on, raised.profile) : [...bar.uses.keys()].some((cross) => here.has(cross))),
  );
  const served = new Set([...here, ...bars.flatMap(({ uses }) => [...uses.keys()])]);
  const wanted = all
    .filter((need) => need.dam === dam && served.has(need.cross))
    .reduce((sum, { queens }) => sum + queens, 0);
  return { dam, wanted, grafts: bars.map(({ state }) => state) };
}

function dronesOf(
  mother: RecordId,
  here: readonly SeasonCross[],
  all: readonly SeasonCross[],
  { combs, profile }: Raised,
): DayPlan['drones'][number] {
  const theirs = combsFor({ source: mother, here, all, combs, usual: profile });
  return {
    mother,
    microlitres: here.reduce((sum, cross) => sum + wantedOf(cross, mother), 0),
    lots: theirs.map(({ lot }) => lot),
  };
}

/** Drones of mothers with no part in the day, as far as nobody has a use for them. */
function othersOf(mothers: ReadonlySet<string>, { combs }: Raised): SeasonDay['others'] {
  const free = combs.flatMap((comb) => {
    const [mother] = comb.mothers;
    const used = [...comb.uses.values()].reduce((sum, part) => sum + part, 0);
    const lot = partOf(comb.lot, Math.max(0, 1 - used / comb.combs));
    return mother === undefined || comb.comb === null || comb.mothers.some((id) => mothers.has(id)) || lot.count === 0
      ? []
      : [{ mother, lot }];
  });
  return [...groupBy(free, ({ mother }) => mother)].map(([mother, lots]) => ({
    mother,
    lots: lots.map(({ lot }) => lot),
  }));
}

/** Every insemination day from today on, with what it needs and has. */
export function seasonDays({ crosses }: SeasonBook, raised: Raised, today: Day): SeasonDay[] {
  const open = crosses.filter(
    ({ row, state }) =>
      (state === 'free' || state === 'begun') && row.inseminate_on !== null && row.inseminate_on >= today,
  );
  const all = open.flatMap(needsOf);
  const byDay = groupBy(open, ({ row }) => row.inseminate_on as Day);
  return [...byDay]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([on, here]) => {
      const needs = here.flatMap(needsOf);
      const dams = [...new Set(needs.map(({ dam }) => dam))];
      const mothers = [...new Set(here.flatMap(({ sources }) => sources.map(({ id }) => id)))];
      const queens = dams.map((dam) => queensOf(on, dam, needs, all, raised));
      const drones = mothers.map((mother) => dronesOf(mother, here, open, raised));
      return {
        on,
        crosses: here,
        plan: { on, queens, drones },
        missing: [
          ...queens.filter(({ grafts }) => grafts.length === 0).map(({ dam }) => dam as RecordId),
          ...drones.filter(({ lots }) => lots.length === 0).map(({ mother }) => mother as RecordId),
        ],
        others: othersOf(new Set(mothers), raised),
      };
    });
}
