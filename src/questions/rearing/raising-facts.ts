import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { GraftState } from '#domain/rearing/reality/day-plan.ts';
import type { RaisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { crossReads, profileOf, wishOf } from '#gather/cross-plan.ts';
import { graftStateOf, lotOf } from '#gather/lots.ts';
import { goingAlong } from '#gather/planned-raising.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { gatherCombs, type SeasonComb } from '#gather/season-combs.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type GatheredRaised, gatherRaised, raisedReads } from './gather-raised.ts';
import { serving } from './serving.ts';

/** The kinds the chances of a cross rest on. */
export const raisingFactReads = [
  ...crossReads,
  ...raisedReads,
  'fate',
  'queen',
  'task',
  'planned_graft',
  'planned_graft_use',
  'planned_comb',
  'planned_comb_use',
] as const;

type Source = Row<'cross_drone_source'>;
const sourceId = ({ queen, sister_group, line }: Source): string => queen ?? sister_group ?? line ?? '';

/** Shares of the semen; those not given take equal parts of what is left. */
function sharesOf(sources: readonly Source[]): number[] {
  const given = sources.reduce((sum, { share }) => sum + (share ?? 0), 0);
  const open = sources.filter(({ share }) => share === null).length;
  return sources.map(({ share }) => share ?? Math.max(0, 1 - given) / open);
}

/** Combs of one part of the drone side: of that mother; for a line or group, combs raised for the cross of mothers not named. */
const isOf = (source: Source, comb: Row<'drone_comb'>, named: ReadonlySet<string>): boolean =>
  source.queen === null ? comb.mother === null || !named.has(comb.mother) : comb.mother === source.queen;

async function grafted(facts: Facts, ids: readonly RecordId[], profile: BiologyProfile, today: Day) {
  const cells = groupBy(await facts.find('graft_cell', { graft: ids }), ({ graft }) => graft);
  const queens = await facts.find('queen', { cell: [...cells.values()].flat().map(({ id }) => id) });
  const ended = new Set((await facts.find('fate', { queen: queens.map(({ id }) => id) })).map(({ queen }) => queen));
  const gone = new Set(queens.flatMap(({ id, cell }) => (cell !== null && ended.has(id) ? [cell] : [])));
  const grafts = await facts.find('graft', { id: ids });
  return grafts.map((graft) => graftStateOf(graft, { cells: cells.get(graft.id) ?? [], gone }, { profile, today }));
}

/** A cross, or what it would be after a move. `shift`: how far what is planned for it alone went along. */
export type Asked = { cross: Row<'cross'>; today: Day; sure: number; shift?: RaisingShift };

type Planned = { bars: Row<'planned_graft'>[]; combsMoved: ReadonlyMap<RecordId, number>; others: number };

/** Bars and combs planned for the cross, where a move would put them; and queens other crosses are to have of its bars. */
async function plannedOf(facts: Facts, { cross, today, shift }: Asked, bars: readonly RecordId[]): Promise<Planned> {
  const none = { bars: [], combs: [] };
  const along = shift === undefined ? none : await goingAlong(facts, new Set([cross.id]), shift, today);
  const moved = new Map(along.bars.map((bar) => [bar.id, bar]));
  const mine = (await facts.find('planned_graft_use', { cross: cross.id })).map(({ planned_graft }) => planned_graft);
  const planned = await facts.find('planned_graft', { id: mine, cancelled: null });
  const open = planned.filter(({ graft }) => graft === null);
  const used = planned.filter(({ graft }) => graft === null || bars.includes(graft)).map(({ id }) => id);
  const uses = await facts.find('planned_graft_use', { planned_graft: used });
  const elsewhere = uses.filter((use) => use.cross !== cross.id);
  const given = await facts.find('cross', { id: elsewhere.map((use) => use.cross), cancelled: null });
  const live = new Set(given.map(({ id }) => id));
  return {
    bars: open.map((bar) => moved.get(bar.id) ?? bar),
    combsMoved: new Map(along.combs.map(({ id }) => [id, shift?.drones ?? 0])),
    others: elsewhere.filter((use) => live.has(use.cross)).reduce((sum, { queens }) => sum + queens, 0),
  };
}

const later = (lot: DroneLot, days: number): DroneLot =>
  'laidFrom' in lot ? { ...lot, laidFrom: addDays(lot.laidFrom, days), laidTo: addDays(lot.laidTo, days) } : lot;

/** The part of a comb that was planned for the cross; all of it where nobody planned. */
function partFor({ uses }: SeasonComb, cross: RecordId): number {
  const given = [...uses.values()].reduce((sum, combs) => sum + combs, 0);
  if (uses.size === 0) return 1;
  return given === 0 ? 1 / uses.size : (uses.get(cross) ?? 0) / given;
}

type Lots = {
  cross: RecordId;
  sources: readonly Source[];
  hung: readonly Row<'drone_comb'>[];
  season: readonly SeasonComb[];
  profile: BiologyProfile;
  moved: ReadonlyMap<RecordId, number>;
};

/** Drones of one part of the drone side: of combs that hang, and of combs planned for the cross. */
function lotsOf(source: Source, { cross, sources, hung, season, profile, moved }: Lots): DroneLot[] {
  const named = new Set(sources.flatMap(({ queen }) => queen ?? []));
  const planOf = new Map(season.flatMap((one) => (one.comb === null ? [] : [[one.comb.id, one] as const])));
  const part = (lot: DroneLot, comb: SeasonComb | undefined): DroneLot =>
    comb === undefined ? lot : { ...lot, count: Math.round(lot.count * partFor(comb, cross)) };
  const there = hung
    .filter((comb) => isOf(source, comb, named))
    .flatMap((comb) => {
      const lot = lotOf(comb, profile);
      const plan = planOf.get(comb.id);
      return lot === null ? [] : [plan?.uses.has(cross) ? part(lot, plan) : lot];
    });
  const toCome = season
    .filter(
      ({ comb, uses, mothers }) => comb === null && uses.has(cross) && mothers.some((id) => id === sourceId(source)),
    )
    .map((one) => part(later(one.lot, moved.get(one.id) ?? 0), one));
  return [...there, ...toCome].filter(({ count }) => count > 0);
}

/** What served a cross when it was read, besides what its chances are reckoned from. */
export type GatheredFacts = {
  facts: RaisingFacts;
  wish: Wish;
  raised: GatheredRaised;
  mine: ReturnType<typeof serving>;
};

/** Reads what a cross wants of its day, and what is raised and planned for it. `null` while it has no day. */
export async function gatherRaisingFacts(facts: Facts, asked: Asked): Promise<GatheredFacts | null> {
  const { cross, today, sure } = asked;
  const profiles = await gatherProfiles(facts);
  const wish = wishOf(cross, profiles);
  if (wish === null) return null;
  const profile = profileOf(cross, profiles);
  const raised = await gatherRaised(facts, profile);
  const sources = await facts.find('cross_drone_source', { cross: cross.id });
  const named = new Set(sources.flatMap(({ queen }) => queen ?? []));
  const dams = new Set<string>((await facts.find('cross_dam', { cross: cross.id })).map(({ queen }) => queen));
  const mine = serving(wish, raised, { cross: cross.id, dams, mothers: named });
  const bars = mine.bars.map((bar) => bar.id as RecordId);
  const planned = await plannedOf(facts, asked, bars);
  const toCome = planned.bars.map(
    ({ id, day, larvae }): GraftState => ({ id, grafted: day, count: { left: larvae, after: 'grafted' } }),
  );
  const lots: Lots = {
    cross: cross.id,
    sources,
    hung: await facts.find('drone_comb', { id: mine.combs.map((comb) => comb.id as RecordId) }),
    season: await gatherCombs(facts, profile),
    profile,
    moved: planned.combsMoved,
  };
  const shares = sharesOf(sources);
  return {
    wish,
    raised,
    mine,
    facts: {
      on: wish.inseminate,
      queens: wish.queens,
      others: planned.others,
      queenAge: wish.queenAge ?? profile.usual.queenAge,
      droneAge: wish.droneAge ?? profile.usual.droneAge,
      microlitresAQueen: cross.dose_ul * (cross.doses ?? 1),
      profile,
      sure,
      grafts: [...(await grafted(facts, bars, profile, today)), ...toCome],
      grafted: bars.length,
      mothers: sources.map((source, i) => ({
        id: sourceId(source),
        name: raised.called(sourceId(source)),
        share: shares[i] ?? 0,
        lots: lotsOf(source, lots),
        hung: lots.hung.filter((comb) => isOf(source, comb, named)).length,
      })),
    },
  };
}
