import { livingState } from '#domain/living/living-state.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { type RepairCosts, usualCosts } from '#domain/rearing/reality/repair.ts';
import { partName } from '#domain/rearing/season/cross-part.ts';
import {
  type CrossWish,
  type SeasonLimits,
  type SeasonWish,
  usualReckoning,
} from '#domain/rearing/season/season-wish.ts';
import type { Facts } from '#ports/store.ts';
import type { KindName, Row } from '#records/kinds.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { droneSharesOf, type SeasonSource } from './comb-parts.ts';
import { crossReads } from './cross-plan.ts';
import { gatherLiving, livingReads } from './living.ts';
import { dayOfInsemination } from './matings.ts';
import { gatherProfiles, profileFor } from './profiles.ts';

export const seasonReads = [
  ...crossReads,
  ...livingReads,
  'season',
  'day_off',
  'planned_graft',
  'planned_graft_use',
  'planned_comb',
  'planned_comb_use',
  'drone_comb',
  'graft_cell',
  'yard',
] as const satisfies readonly KindName[];

/** How far a cross has come: still to be planned, being raised, inseminated, given up. */
export type CrossState = 'free' | 'begun' | 'done' | 'given-up';

/** A cross as the season plans it. */
export type SeasonCross = {
  row: Row<'cross'>;
  dams: readonly RecordId[];
  sources: readonly SeasonSource[];
  state: CrossState;
  /** Times and losses it is raised by, and whether they are its own. */
  profile: BiologyProfile;
  own: boolean;
  /** Dams and drone mothers who are gone. */
  gone: readonly RecordId[];
};

/** Everything a season is planned from. */
export type SeasonBook = {
  seasons: readonly Row<'season'>[];
  daysOff: readonly Row<'day_off'>[];
  crosses: readonly SeasonCross[];
  profile: BiologyProfile;
  /** Queens inseminated, by cross and day, and how many of them are not gone since. */
  done: readonly { cross: RecordId; on: Day; queens: number; alive: number }[];
  /** Yard away from home, by queen who stands there. */
  yards: Readonly<Record<string, string>>;
  /** The one queen of a line or sister group who is not known to be gone, where drones of that line or group are asked for and she is the only one. */
  onlyQueens: Readonly<Record<string, string>>;
};

/** Yards away from home in which queens stand. A yard without a distance is at home. */
async function yardsAway(facts: Facts): Promise<Record<string, string>> {
  const away = new Set(
    (await facts.find('yard')).filter(({ distance_km }) => (distance_km ?? 0) > 0).map(({ id }) => id),
  );
  const places = new Map(
    (await facts.find('colony_place', { stood_to: null })).map(({ colony, yard }) => [colony, yard]),
  );
  const stays = await facts.find('stay', { to_latest: null, to_earliest: null });
  const found = stays.flatMap(({ queen, colony }) => {
    const yard = colony === null ? undefined : places.get(colony);
    return yard !== undefined && away.has(yard) ? [[queen, yard] as const] : [];
  });
  return Object.fromEntries(found);
}

/** The only queen not gone of each line and sister group that drones are asked of. */
async function onlyQueensOf(
  facts: Facts,
  queens: readonly Row<'queen'>[],
  isGone: (id: RecordId) => boolean,
): Promise<Record<string, string>> {
  const asked = [...(await facts.find('cross_drone_source')), ...(await facts.find('planned_comb'))];
  const groups = new Set(asked.flatMap(({ line, sister_group }) => line ?? sister_group ?? []));
  if (groups.size === 0) return {};
  const members = queens.flatMap(({ id, line, sister_group }) =>
    [line, sister_group].flatMap((group) => (group !== null && groups.has(group) ? [{ group, id }] : [])),
  );
  const living = groupBy(
    members.filter(({ id }) => !isGone(id)),
    ({ group }) => group,
  );
  return Object.fromEntries(
    [...living].flatMap(([group, its]) => {
      const [only] = its;
      return only === undefined || its.length > 1 ? [] : [[group, only.id] as const];
    }),
  );
}

/** Crosses for which a bar or comb has been raised. */
async function begunCrosses(facts: Facts): Promise<ReadonlySet<RecordId>> {
  const bars = new Set((await facts.find('planned_graft')).filter(({ graft }) => graft !== null).map(({ id }) => id));
  const combs = new Set(
    (await facts.find('planned_comb')).filter(({ drone_comb }) => drone_comb !== null).map(({ id }) => id),
  );
  const own = [...(await facts.find('graft')), ...(await facts.find('drone_comb'))];
  return new Set([
    ...own.flatMap(({ cross }) => cross ?? []),
    ...(await facts.find('planned_graft_use')).filter((use) => bars.has(use.planned_graft)).map(({ cross }) => cross),
    ...(await facts.find('planned_comb_use')).filter((use) => combs.has(use.planned_comb)).map(({ cross }) => cross),
  ]);
}

/** Inseminated queens counted by cross and day; one who was given two doses is one queen, on her first day. */
function countDone(rows: readonly Row<'insemination'>[], isAlive: (queen: RecordId) => boolean): SeasonBook['done'] {
  type One = { queen: RecordId; cross: RecordId; on: Day };
  const first = new Map<RecordId, One>();
  for (const row of rows) {
    const { queen, cross } = row;
    const on = dayOfInsemination(row);
    const known = first.get(queen);
    if (cross === null || on === null || (known !== undefined && known.on <= on)) continue;
    first.set(queen, { queen, cross, on });
  }
  return [...groupBy([...first.values()], ({ cross, on }) => `${cross} ${on}`).values()].flatMap((its) => {
    const alive = its.filter(({ queen }) => isAlive(queen)).length;
    return its.slice(0, 1).map(({ cross, on }) => ({ cross, on, queens: its.length, alive }));
  });
}

/** Reads seasons, days off, and every cross with its sides and how far it has come. */
export async function gatherSeason(facts: Facts, today: Day): Promise<SeasonBook> {
  const dams = groupBy(await facts.find('cross_dam'), ({ cross }) => cross);
  const sources = groupBy(await facts.find('cross_drone_source'), ({ cross }) => cross);
  const inseminations = await facts.find('insemination', { done: 1 });
  const done = new Set(inseminations.map(({ cross }) => cross));
  const begun = await begunCrosses(facts);
  const living = await gatherLiving(facts);
  const known = new Set<string>(living.queens.map(({ id }) => id));
  const isGone = (id: RecordId) => known.has(id) && livingState(living.of(id), today).state === 'gone';
  const stateOf = ({ id, cancelled }: Row<'cross'>): CrossState => {
    if (cancelled === 1) return 'given-up';
    if (done.has(id)) return 'done';
    return begun.has(id) ? 'begun' : 'free';
  };
  const profiles = await gatherProfiles(facts);
  const crosses = (await facts.find('cross')).map((row): SeasonCross => {
    const its = {
      dams: (dams.get(row.id) ?? []).map(({ queen }) => queen),
      sources: droneSharesOf(sources.get(row.id) ?? []),
    };
    const state = stateOf(row);
    const sides = [...its.dams, ...its.sources.map(({ id }) => id)];
    const own = row.profile !== null || row.larva_age_hours !== null || row.brood_celsius !== null;
    const profile = profileFor(row, profiles);
    return { row, ...its, state, profile, own, gone: state === 'free' ? sides.filter(isGone) : [] };
  });
  const usual = { profile: null, larva_age_hours: null, brood_celsius: null };
  return {
    seasons: await facts.find('season'),
    daysOff: await facts.find('day_off'),
    crosses,
    profile: profileFor(usual, profiles),
    done: countDone(inseminations, (queen) => !isGone(queen)),
    yards: await yardsAway(facts),
    onlyQueens: await onlyQueensOf(facts, living.queens, isGone),
  };
}

/** The times of the cross something is raised for, where it has some of its own; `undefined` where the usual ones hold. */
export const ownProfile = (
  crosses: readonly SeasonCross[],
  uses: ReadonlyMap<RecordId, unknown>,
): BiologyProfile | undefined => crosses.find(({ row, own }) => own && uses.has(row.id))?.profile;

/** The season of a day: the one it is in, else the next, else the last. */
export function seasonOn(seasons: readonly Row<'season'>[], today: Day): Row<'season'> | null {
  const inOrder = [...seasons].sort((a, b) => (a.from_on < b.from_on ? -1 : 1));
  return inOrder.find(({ to_on }) => to_on >= today) ?? inOrder.at(-1) ?? null;
}

/** Crosses that belong to a season: on a day of it, or without a day and not done. */
export const crossesIn = ({ crosses }: SeasonBook, { from_on, to_on }: Row<'season'>): SeasonCross[] =>
  crosses.filter(({ row, state }) => {
    if (state === 'given-up') return false;
    if (row.inseminate_on !== null) return from_on <= row.inseminate_on && row.inseminate_on <= to_on;
    return state !== 'done';
  });

/** Days off as single days, as far as a season of that span could meet them. */
function blockedDays(daysOff: readonly Row<'day_off'>[], { from_on, to_on }: Row<'season'>): Day[] {
  const [first, last] = [addDays(from_on, -100), addDays(to_on, 60)];
  return daysOff.flatMap(({ from_on: from, to_on: to }) => {
    const days: Day[] = [];
    for (let day = laterOf(from, first); day <= earlierOf(to, last); day = addDays(day, 1)) days.push(day);
    return days;
  });
}

/** What is scarce in a season, as the planner reckons with it; a field left empty is no limit. */
export function limitsOf(season: Row<'season'>, daysOff: readonly Row<'day_off'>[]): SeasonLimits {
  const { queens_per_operator, operators } = season;
  return {
    cells: season.cells,
    cellDays: season.cell_days ?? usualReckoning.cellDays,
    incubatorPlaces: season.incubator_places,
    nucs: season.nucs,
    nucDays: season.nuc_days ?? usualReckoning.nucDays,
    combsPerMother: season.combs_per_mother,
    queensPerDay: queens_per_operator === null ? null : queens_per_operator * (operators ?? 1),
    blockedDays: blockedDays(daysOff, season),
    oneYardADay: season.one_yard === 1,
  };
}

/** What repairs cost in a season, as its breeder weighs them; the usual costs where nothing is set. */
export const repairCostsOf = (season: Row<'season'> | null): RepairCosts => ({
  graft: season?.repair_graft ?? usualCosts.graft,
  larva: season?.repair_larva ?? usualCosts.larva,
  otherDrones: season?.repair_drones ?? usualCosts.otherDrones,
  dayMoved: season?.repair_day ?? usualCosts.dayMoved,
  queenLost: season?.repair_queen ?? usualCosts.queenLost,
});

/** Queens of a cross shared among its dams, as even as whole queens go. */
const sharedAmong = (queens: number, dams: number): number[] =>
  Array.from({ length: dams }, (_, i) => Math.floor(queens / dams) + (i < queens % dams ? 1 : 0));

/** A cross as the wishes of the planner: one for each dam that has queens to give. */
export function wishesOf({ row, dams, sources, own, profile }: SeasonCross): CrossWish[] {
  const kept = row.keep_day === 1 ? row.inseminate_on : null;
  const earliest = kept ?? row.earliest_on;
  const latest = kept ?? row.latest_on;
  const shares = sharedAmong(row.queens_wanted, dams.length);
  return dams.flatMap((dam, i): CrossWish[] => {
    const queens = shares[i] ?? 0;
    if (queens === 0 && dams.length > 1) return [];
    return [
      {
        cross: partName(row.id, i),
        dam,
        drones: sources.map(({ id, share }) => ({ mother: id, share })),
        queens,
        dose: row.dose_ul * (row.doses ?? 1),
        ...(earliest === null ? {} : { earliest }),
        ...(latest === null ? {} : { latest }),
        ...(row.worth === null ? {} : { worth: row.worth }),
        ...(own ? { profile } : {}),
      },
    ];
  });
}

/** The wish of a season: its crosses that are still free, its limits, its days, and what stands already beside them. */
export function seasonWishOf(
  book: SeasonBook,
  season: Row<'season'>,
  crosses: readonly SeasonCross[],
  today: Day,
): SeasonWish {
  return {
    crosses: crosses.flatMap(wishesOf),
    limits: limitsOf(season, book.daysOff),
    profile: book.profile,
    from: season.from_on,
    to: season.to_on,
    today,
    yards: book.yards,
    nestOf: book.onlyQueens,
    ...(season.sure === null ? {} : { sure: season.sure }),
    ...(season.visit_worth === null ? {} : { visitWorth: season.visit_worth }),
  };
}
