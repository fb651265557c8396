import { standsInTheWay } from './free-room.ts';
import { type LinearModel, ModelBuilder, type Term } from './linear-model.ts';
import type { Raising, SeasonFrame } from './season-frame.ts';
import type { CombPlan, Placement, PlannedSeason } from './season-plan.ts';

/** A season as a linear model, and which of its columns mean what. */
export type SeasonModel = {
  model: LinearModel;
  /** Whole queens of a cross on a day from a graft. */
  placements: readonly { column: number; cross: number; day: number; graft: number }[];
  /** Whole combs of a mother hung in on a day. */
  combs: readonly { column: number; mother: number; in: number; uses: readonly { column: number; day: number }[] }[];
};

type Bar = { column: number; dam: number; graft: number; queens: Term[] };
type Comb = { column: number; mother: number; in: number; uses: { column: number; day: number }[] };

/** What is being built, shared by the steps below. */
type Work = {
  frame: SeasonFrame;
  builder: ModelBuilder;
  placements: { column: number; cross: number; day: number; graft: number }[];
  bars: Map<number, Bar>;
  combs: Map<number, Comb>;
  visits: Map<number, number>;
};

/** The column that is 1 when a yard is visited on a day; a visit made anyway costs nothing, one that something stands in the way of cannot be. */
function visitColumn({ frame, builder, visits }: Work, yard: number, day: number): number {
  const key = yard * frame.days + day;
  const known = visits.get(key);
  if (known !== undefined) return known;
  const worth = frame.room.visits.has(key) ? 0 : -frame.visitWorth;
  const high = standsInTheWay(frame, yard, day) ? 0 : 1;
  const column = builder.column({ high, worth, whole: true });
  visits.set(key, column);
  return column;
}

const wantedBy = (frame: SeasonFrame, dam: number) =>
  frame.damOf.reduce((sum, one, cross) => sum + (one === dam ? (frame.wish.crosses[cross]?.queens ?? 0) : 0), 0);

/** The bar of a dam on a day, whose column is 1 when it is grafted. */
function barOf(work: Work, dam: number, graft: number): Bar {
  const { frame, builder, bars } = work;
  const key = dam * frame.days + graft;
  const known = bars.get(key);
  if (known !== undefined) return known;
  const column = builder.column({ high: 1, whole: true });
  const bar: Bar = { column, dam, graft, queens: [] };
  bars.set(key, bar);
  builder.atMost(0, [
    [column, 1],
    [visitColumn(work, frame.yardOfDam[dam] ?? 0, graft), -1],
  ]);
  return bar;
}

/** Columns of queens, each on its day and from its bar; no cross more than it wants. */
function addPlacements(work: Work): void {
  const { frame, builder } = work;
  frame.wish.crosses.forEach((wish, cross) => {
    const all: Term[] = [];
    for (const day of frame.daysOf[cross] ?? [])
      for (const graft of frame.ofCross[cross]?.graftsFor[day] ?? []) {
        const column = builder.column({ high: wish.queens, worth: wish.worth ?? 1, whole: true });
        all.push([column, 1]);
        work.placements.push({ column, cross, day, graft });
        barOf(work, frame.damOf[cross] ?? 0, graft).queens.push([column, 1]);
      }
    if (all.length > 0) builder.atMost(wish.queens, all);
  });
}

/** How something of the frame is raised. */
function raisedBy(list: readonly Raising[], i: number): Raising {
  const raising = list[i];
  if (raising === undefined) throw new RangeError(`nothing ${i} in the frame`);
  return raising;
}

/** The most queens a bar can give: what its dam's crosses want, and what its cells take. */
function mostOfBar({ frame }: Work, { dam }: Bar): number {
  const { cells, incubatorPlaces } = frame.wish.limits;
  const { larvae, ripePerLarva } = raisedBy(frame.ofDam, dam);
  const { base, perQueen } = larvae;
  const least = Math.min(
    cells ?? Number.POSITIVE_INFINITY,
    (incubatorPlaces ?? Number.POSITIVE_INFINITY) / ripePerLarva,
  );
  return Math.max(0, Math.min(wantedBy(frame, dam), Math.floor((least - base) / perQueen + 1e-9)));
}

/** Terms grouped by a number. */
class Groups {
  readonly #terms = new Map<number, Term[]>();
  add(key: number, ...terms: Term[]): void {
    const known = this.#terms.get(key);
    if (known === undefined) this.#terms.set(key, [...terms]);
    else known.push(...terms);
  }
  of = (key: number): readonly Term[] => this.#terms.get(key) ?? [];
  keys = (): number[] => [...this.#terms.keys()].sort((a, b) => a - b);
}

/** The least room on the days from one to before another. */
const leastIn = (room: Float64Array, from: number, before: number): number =>
  room.subarray(Math.max(0, from), Math.max(1, before)).reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);

/**
 * Room that is taken on some days and given back on others: stock(t) = stock(t − 1) + taken(t) − given back(t), at most what is free until it changes again.
 * Written as a chain, each use stands in two rows instead of in every day it lasts.
 */
function addRoom({ builder, frame }: Work, room: Float64Array, taken: Groups, back: Groups): void {
  if (room[0] === Number.POSITIVE_INFINITY) return;
  const days = [...new Set([...taken.keys(), ...back.keys()])].filter((day) => day < frame.days).sort((a, b) => a - b);
  let before: number | null = null;
  for (const [i, day] of days.entries()) {
    const stock = builder.column({ high: leastIn(room, day, days[i + 1] ?? frame.days) });
    const minus = back.of(day).map(([column, amount]): Term => [column, amount]);
    const plus = taken.of(day).map(([column, amount]): Term => [column, -amount]);
    builder.exactly(0, [[stock, 1], ...(before === null ? [] : [[before, -1] as Term]), ...plus, ...minus]);
    before = stock;
  }
}

const scaled = (terms: readonly Term[], by: number): Term[] => terms.map(([column, amount]) => [column, amount * by]);

function addRearing(work: Work): void {
  const { frame, builder } = work;
  const { limits } = frame.wish;
  const [cells, cellsBack, ripe, ripeBack] = [new Groups(), new Groups(), new Groups(), new Groups()];
  for (const bar of work.bars.values()) {
    builder.atMost(0, [...bar.queens, [bar.column, -mostOfBar(work, bar)]]);
    const its = raisedBy(frame.ofDam, bar.dam);
    const larvae: Term[] = [[bar.column, its.larvae.base], ...scaled(bar.queens, its.larvae.perQueen)];
    cells.add(bar.graft, ...larvae);
    cellsBack.add(bar.graft + limits.cellDays, ...larvae);
    ripe.add(bar.graft + its.ripeAfter, ...scaled(larvae, its.ripePerLarva));
    ripeBack.add(bar.graft + its.latestAfter + 1, ...scaled(larvae, its.ripePerLarva));
  }
  addRoom(work, frame.room.cells, cells, cellsBack);
  addRoom(work, frame.room.ripe, ripe, ripeBack);
}

function addNucsAndBench(work: Work): void {
  const { frame, builder } = work;
  const { limits } = frame.wish;
  const [nucs, nucsBack, bench] = [new Groups(), new Groups(), new Groups()];
  for (const { column, cross, day, graft } of work.placements) {
    const { emergedAfter, nucsPerQueen } = raisedBy(frame.ofCross, cross);
    nucs.add(graft + emergedAfter, [column, nucsPerQueen]);
    nucsBack.add(day + limits.nucDays + 1, [column, nucsPerQueen]);
    bench.add(day, [column, 1]);
  }
  addRoom(work, frame.room.nucs, nucs, nucsBack);
  const wanted = frame.wish.crosses.reduce((sum, { queens }) => sum + queens, 0);
  for (const day of bench.keys())
    builder.atMost(0, [
      ...bench.of(day),
      [visitColumn(work, 0, day), -Math.min(wanted, frame.room.bench[day] ?? wanted)],
    ]);
}

/** The comb of a mother on a day, whose column counts how many go in. */
function combOf(work: Work, mother: number, hung: number, most: number): Comb {
  const { frame, builder, combs } = work;
  const key = mother * frame.days + hung;
  const known = combs.get(key);
  if (known !== undefined) return known;
  const column = builder.column({ high: most, whole: true });
  const comb: Comb = { column, mother, in: hung, uses: [] };
  combs.set(key, comb);
  builder.atMost(0, [
    [column, 1],
    [visitColumn(work, frame.yardOfMother[mother] ?? 0, hung), -most],
  ]);
  return comb;
}

/** µl that a mother's drones must give, by mother and day. */
function semenWanted({ frame, placements }: Work): Groups {
  const wanted = new Groups();
  for (const { column, cross, day } of placements)
    for (const { mother, microlitres } of frame.dronesOf[cross] ?? [])
      wanted.add(mother * frame.days + day, [column, -microlitres]);
  return wanted;
}

/** Combs one mother could ever need: all her semen on its worst day. */
function mostCombs({ frame }: Work, mother: number): number {
  const wanted = frame.dronesOf.reduce((sum, needs, cross) => {
    const queens = frame.wish.crosses[cross]?.queens ?? 0;
    return (
      sum + needs.filter((need) => need.mother === mother).reduce((all, need) => all + need.microlitres * queens, 0)
    );
  }, 0);
  const worst = raisedBy(frame.ofMother, mother)
    .supplyAfter.filter((microlitres) => microlitres > 0)
    .reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const needed = Math.ceil(wanted / worst);
  return Math.min(needed, Math.floor(frame.wish.limits.combsPerMother ?? needed));
}

function addDrones(work: Work): void {
  const { frame, builder } = work;
  const wanted = semenWanted(work);
  const most = frame.mothers.map((_, mother) => mostCombs(work, mother));
  for (const key of wanted.keys()) {
    const [mother, day] = [Math.floor(key / frame.days), key % frame.days];
    const supply: Term[] = [];
    const { combsFor, supplyAfter } = raisedBy(frame.ofMother, mother);
    for (const hung of most[mother] === 0 ? [] : (combsFor[day] ?? [])) {
      const comb = combOf(work, mother, hung, most[mother] ?? 0);
      const used = builder.column({ high: most[mother] ?? 0 });
      comb.uses.push({ column: used, day });
      supply.push([used, supplyAfter[day - hung] ?? 0]);
    }
    builder.atLeast(0, [...supply, ...wanted.of(key)]);
  }
  for (const { column, uses } of work.combs.values())
    builder.atMost(0, [...uses.map((use): Term => [use.column, 1]), [column, -1]]);
  addNests(work);
}

/** Room in the nest of each mother. */
function addNests(work: Work): void {
  const { frame } = work;
  frame.nests.forEach((_, nest) => {
    const [hung, out] = [new Groups(), new Groups()];
    for (const comb of work.combs.values()) {
      if (frame.nestOf[comb.mother] !== nest) continue;
      hung.add(comb.in, [comb.column, 1]);
      out.add(comb.in + raisedBy(frame.ofMother, comb.mother).combStay, [comb.column, 1]);
    }
    const room = frame.room.nests[nest];
    if (room !== undefined) addRoom(work, room, hung, out);
  });
}

/** At most one yard away from home a day. */
function addYards({ frame, builder, visits }: Work): void {
  if (!frame.wish.limits.oneYardADay) return;
  const away = new Groups();
  for (const [key, column] of visits)
    if (key >= frame.days && !frame.room.visits.has(key)) away.add(key % frame.days, [column, 1]);
  for (const day of away.keys()) if (away.of(day).length > 1) builder.atMost(1, away.of(day));
}

/**
 * The season as a linear model: the same possibilities, figures and worth as the greedy search (plan-ledger.ts), so that the best worth of the one bounds
 * the other. Whole: queens, bars, combs, visits. Not whole: how much of a comb is used on which day, and the room taken.
 */
export function seasonModel(frame: SeasonFrame): SeasonModel {
  const work: Work = {
    frame,
    builder: new ModelBuilder(),
    placements: [],
    bars: new Map(),
    combs: new Map(),
    visits: new Map(),
  };
  addPlacements(work);
  addRearing(work);
  addNucsAndBench(work);
  addDrones(work);
  addYards(work);
  return { model: work.builder.model(), placements: work.placements, combs: [...work.combs.values()] };
}

/** Queens by set of times, day and graft, all crosses together, with what they take of cells, incubator and nucs. */
function addFlows(work: Work, placed: Groups): void {
  const { frame, builder } = work;
  const { limits, crosses } = frame.wish;
  const most = crosses.reduce((sum, { queens }) => sum + queens, 0);
  const [cells, cellsBack, ripe, ripeBack] = [new Groups(), new Groups(), new Groups(), new Groups()];
  const [nucs, nucsBack] = [new Groups(), new Groups()];
  for (const key of placed.keys()) {
    const [raising, day] = [Math.floor(key / frame.days), key % frame.days];
    const its = raisedBy(frame.raisings, raising);
    const out: Term[] = [];
    for (const graft of its.graftsFor[day] ?? []) {
      const column = builder.column({ high: most });
      out.push([column, -1]);
      const larvae: Term = [column, its.larvae.perQueen];
      cells.add(graft, larvae);
      cellsBack.add(graft + limits.cellDays, larvae);
      ripe.add(graft + its.ripeAfter, ...scaled([larvae], its.ripePerLarva));
      ripeBack.add(graft + its.latestAfter + 1, ...scaled([larvae], its.ripePerLarva));
      nucs.add(graft + its.emergedAfter, [column, its.nucsPerQueen]);
      nucsBack.add(day + limits.nucDays + 1, [column, its.nucsPerQueen]);
    }
    builder.atMost(0, [...placed.of(key), ...out]);
  }
  addRoom(work, frame.room.cells, cells, cellsBack);
  addRoom(work, frame.room.ripe, ripe, ripeBack);
  addRoom(work, frame.room.nucs, nucs, nucsBack);
}

/**
 * The queen side alone, all dams as one, without bars begun, visits and drones: every season possible in {@link seasonModel} is possible here and worth no
 * less, so its bound is a bound, found in a fraction of the time.
 */
export function coarseModel(frame: SeasonFrame): LinearModel {
  const builder = new ModelBuilder();
  const work: Work = { frame, builder, placements: [], bars: new Map(), combs: new Map(), visits: new Map() };
  const [placed, onDay] = [new Groups(), new Groups()];
  frame.wish.crosses.forEach((wish, cross) => {
    const all = (frame.daysOf[cross] ?? []).map((day): Term => {
      const column = builder.column({ high: wish.queens, worth: wish.worth ?? 1 });
      placed.add(frame.raisings.indexOf(raisedBy(frame.ofCross, cross)) * frame.days + day, [column, 1]);
      onDay.add(day, [column, 1]);
      return [column, 1];
    });
    if (all.length > 0) builder.atMost(wish.queens, all);
  });
  const { bench } = frame.room;
  for (const day of onDay.keys())
    if (bench[day] !== Number.POSITIVE_INFINITY) builder.atMost(bench[day] ?? 0, onDay.of(day));
  addFlows(work, placed);
  return builder.model();
}

/** The plan that column values stand for. */
export function planOfValues({ placements, combs }: SeasonModel, values: Float64Array): PlannedSeason {
  const whole = (column: number) => Math.round(values[column] ?? 0);
  return {
    placements: placements
      .map(({ column, cross, day, graft }): Placement => ({ cross, day, graft, queens: whole(column) }))
      .filter(({ queens }) => queens > 0),
    combs: combs
      .map(({ column, mother, in: hung, uses }): CombPlan => {
        const used = uses.map((use) => ({ day: use.day, combs: values[use.column] ?? 0 }));
        return { mother, in: hung, count: whole(column), uses: used.filter(({ combs }) => combs > 1e-6) };
      })
      .filter(({ count }) => count > 0),
  };
}

/** Column values that stand for a plan, to begin a solver from: only whole columns of queens, bars, combs and visits are set. */
export function valuesOfPlan(season: SeasonModel, plan: PlannedSeason): { columns: Int32Array; values: Float64Array } {
  const queens = new Map(plan.placements.map((one) => [`${one.cross}.${one.day}.${one.graft}`, one.queens]));
  const combs = new Map(plan.combs.map((one) => [`${one.mother}.${one.in}`, one.count]));
  const set: [number, number][] = [
    ...season.placements.map(({ column, cross, day, graft }): [number, number] => [
      column,
      queens.get(`${cross}.${day}.${graft}`) ?? 0,
    ]),
    ...season.combs.map(({ column, mother, in: hung }): [number, number] => [
      column,
      combs.get(`${mother}.${hung}`) ?? 0,
    ]),
  ];
  set.sort(([a], [b]) => a - b);
  return { columns: Int32Array.from(set, ([column]) => column), values: Float64Array.from(set, ([, value]) => value) };
}
