import type { RaisingFacts } from '#domain/rearing/chances/raising-chances.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { GraftState } from '#domain/rearing/reality/day-plan.ts';
import type { RaisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { combsFor, droneSharesOf, type Sharer } from '#gather/comb-parts.ts';
import { crossReads, profileOf, wishOf } from '#gather/cross-plan.ts';
import { gatherLate, lateReads, reckonedOn } from '#gather/late-raising.ts';
import { graftStateOf } from '#gather/lots.ts';
import { goingAlong } from '#gather/planned-raising.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { combAsPlanned, combLateBy, combLater, gatherCombs } from '#gather/season-combs.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import type { Day } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import type { RecordId } from '#units/record-id.ts';
import { type GatheredRaised, gatherRaised, raisedReads } from './gather-raised.ts';
import { serving } from './serving.ts';

/** The kinds the chances of a cross rest on. */
export const raisingFactReads = [...crossReads, ...raisedReads, ...lateReads, 'fate', 'queen'] as const;

async function grafted(facts: Facts, ids: readonly RecordId[], profile: BiologyProfile, today: Day) {
  const cells = groupBy(await facts.find('graft_cell', { graft: ids }), ({ graft }) => graft);
  const queens = await facts.find('queen', { cell: [...cells.values()].flat().map(({ id }) => id) });
  const ended = new Set((await facts.find('fate', { queen: queens.map(({ id }) => id) })).map(({ queen }) => queen));
  const gone = new Set(queens.flatMap(({ id, cell }) => (cell !== null && ended.has(id) ? [cell] : [])));
  const grafts = await facts.find('graft', { id: ids });
  return grafts.map((graft) => graftStateOf(graft, { cells: cells.get(graft.id) ?? [], gone }, { profile, today }));
}

/**
 * A cross, or what it would be after a move. `shift`: how far what is planned for it alone went along. `ifDone`: what is late is taken as done on the day it was
 * planned for.
 */
export type Asked = { cross: Row<'cross'>; today: Day; sure: number; shift?: RaisingShift; ifDone?: boolean };

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

/** Crosses that are still to be inseminated on a day, with what they ask of the drones; the one asked about as it is asked. */
async function sharersOf(facts: Facts, { cross, today }: Asked): Promise<{ own: Sharer; all: Sharer[] }> {
  const open = (await facts.find('cross')).filter(
    (row) => row.cancelled !== 1 && row.inseminate_on !== null && row.inseminate_on >= today && row.id !== cross.id,
  );
  const ids = [cross, ...open].map(({ id }) => id);
  const done = new Set((await facts.find('insemination', { cross: ids, done: 1 })).map((row) => row.cross));
  const sources = groupBy(await facts.find('cross_drone_source', { cross: ids }), (source) => source.cross);
  const sharer = (row: Row<'cross'>): Sharer => ({ row, sources: droneSharesOf(sources.get(row.id) ?? []) });
  const own = sharer(cross);
  return { own, all: [own, ...open.filter(({ id }) => !done.has(id)).map(sharer)] };
}

/** What served a cross when it was read, besides what its chances are reckoned from. */
export type GatheredFacts = {
  facts: RaisingFacts;
  wish: Wish;
  raised: GatheredRaised;
  mine: ReturnType<typeof serving>;
  /** Something its chances rest on is late: neither written down nor ticked by its day. */
  isLate: boolean;
};

/** Reads what a cross wants of its day, and what is raised and planned for it. `null` while it has no day. */
export async function gatherRaisingFacts(facts: Facts, asked: Asked): Promise<GatheredFacts | null> {
  const { cross, today, sure, ifDone = false } = asked;
  const profiles = await gatherProfiles(facts);
  const wish = wishOf(cross, profiles);
  if (wish === null) return null;
  const profile = profileOf(cross, profiles);
  const raised = await gatherRaised(facts, profile);
  const { own, all } = await sharersOf(facts, asked);
  const named = new Set<string>(own.sources.flatMap(({ id, isQueen }) => (isQueen ? [id] : [])));
  const dams = new Set<string>((await facts.find('cross_dam', { cross: cross.id })).map(({ queen }) => queen));
  const mine = serving(wish, raised, { cross: cross.id, dams, mothers: named });
  const bars = mine.bars.map((bar) => bar.id as RecordId);
  const planned = await plannedOf(facts, asked, bars);
  const late = await gatherLate(facts, today);
  const toCome = planned.bars.map(
    ({ id, day, larvae }): GraftState => ({
      id,
      grafted: reckonedOn(day, late.has(id) && !ifDone, today),
      count: { left: larvae, after: 'grafted' },
    }),
  );
  const combs = (await gatherCombs(facts, { today, usual: profile })).map((comb) => {
    const days = comb.comb === null ? planned.combsMoved.get(comb.id) : undefined;
    if (days !== undefined) return combLater(comb, days - combLateBy(comb, today));
    return ifDone ? combAsPlanned(comb, today) : comb;
  });
  const sides = own.sources.map((source) => ({
    source,
    its: combsFor({ source: source.id, here: [own], all, combs, usual: profile }),
  }));
  const motherOf = ({ source: { id, share }, its }: (typeof sides)[number]) => ({
    id,
    name: raised.called(id),
    share,
    lots: its.map(({ lot }) => lot),
    hung: its.filter(({ comb }) => comb.comb !== null).length,
  });
  return {
    wish,
    raised,
    mine,
    isLate: planned.bars.some(({ id }) => late.has(id)) || sides.some(({ its }) => its.some(({ comb }) => comb.late)),
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
      mothers: sides.map(motherOf),
    },
  };
}
