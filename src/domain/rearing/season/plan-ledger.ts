import { standsInTheWay, takeRoom } from './free-room.ts';
import type { Raising, SeasonFrame } from './season-frame.ts';
import type { CombPlan, CombUse, Placement, PlannedSeason } from './season-plan.ts';

const ROUNDING = 1e-9;
const NONE = new Int32Array(0);

function leastRoom(room: Float64Array, from: number, to: number): number {
  let least = Number.POSITIVE_INFINITY;
  const end = Math.min(to, room.length - 1);
  for (let t = Math.max(0, from); t <= end; t++) {
    const here = room[t] as number;
    if (here < least) least = here;
  }
  return least;
}

/** Combs hung in together; `used` of them is promised to placements. */
type Comb = Omit<CombPlan, 'uses'> & { id: number; used: number };
/** A placement and the combs its drones come from. */
type Placed = Placement & { uses: { id: number; used: number }[] };

/** Rooms and lists of a ledger, to be copied as a whole. */
type Book = {
  cells: Float64Array;
  ripe: Float64Array;
  nucs: Float64Array;
  bench: Float64Array;
  nests: Float64Array[];
  /** Yard away from home visited on each day; 0 none. */
  away: Int32Array;
  /** How many placements share a bar, and how many things a visit is made for. */
  bars: Map<number, number>;
  visits: Map<number, number>;
  combs: Map<number, Comb>[];
  placed: Placed[];
  nextComb: number;
  reward: number;
};

function emptyBook({ room, days, mothers }: SeasonFrame): Book {
  return {
    cells: room.cells.slice(),
    ripe: room.ripe.slice(),
    nucs: room.nucs.slice(),
    bench: room.bench.slice(),
    nests: room.nests.map((nest) => nest.slice()),
    away: new Int32Array(days),
    bars: new Map(),
    visits: new Map(),
    combs: mothers.map(() => new Map()),
    placed: [],
    nextComb: 0,
    reward: 0,
  };
}

const copyBook = (book: Book): Book => ({
  ...book,
  cells: book.cells.slice(),
  ripe: book.ripe.slice(),
  nucs: book.nucs.slice(),
  bench: book.bench.slice(),
  nests: book.nests.map((nest) => nest.slice()),
  away: book.away.slice(),
  bars: new Map(book.bars),
  visits: new Map(book.visits),
  combs: book.combs.map((combs) => new Map([...combs].map(([id, comb]) => [id, { ...comb }]))),
  placed: [...book.placed],
});

/**
 * What is still free while a season is filled placement by placement. `mostQueens` says how many queens of a cross could still be placed on a
 * day from a graft, `place` takes the room, `takeBack` gives it back. Longer than most files: its parts share one book of rooms.
 */
export class PlanLedger {
  readonly #frame: SeasonFrame;
  readonly #book: Book;

  constructor(frame: SeasonFrame, book: Book = emptyBook(frame)) {
    this.#frame = frame;
    this.#book = book;
  }

  copy = (): PlanLedger => new PlanLedger(this.#frame, copyBook(this.#book));

  /** Queens placed by the worth of their cross, less what the visits cost: worthOf (season-plan.ts) of the plan so far. */
  get worth(): number {
    return this.#book.reward - this.#frame.visitWorth * this.#book.visits.size;
  }

  /** Whether a yard may be visited on a day. */
  #mayVisit(yard: number, day: number): boolean {
    if (standsInTheWay(this.#frame, yard, day)) return false;
    const away = this.#book.away[day] ?? 0;
    return yard === 0 || !this.#frame.wish.limits.oneYardADay || away === 0 || away === yard;
  }

  #visitKey = (yard: number, day: number) => yard * this.#frame.days + day;
  /** Made anyway, for what stands already. */
  #isMadeAnyway = (yard: number, day: number): boolean => this.#frame.room.visits.has(this.#visitKey(yard, day));
  isVisited = (yard: number, day: number): boolean =>
    this.#isMadeAnyway(yard, day) || this.#book.visits.has(this.#visitKey(yard, day));

  #visit(yard: number, day: number): void {
    if (this.#isMadeAnyway(yard, day)) return;
    const key = this.#visitKey(yard, day);
    if (yard !== 0) this.#book.away[day] = yard;
    this.#book.visits.set(key, (this.#book.visits.get(key) ?? 0) + 1);
  }

  #unvisit(yard: number, day: number): void {
    if (this.#isMadeAnyway(yard, day)) return;
    const key = this.#visitKey(yard, day);
    const left = (this.#book.visits.get(key) ?? 0) - 1;
    if (left > 0) this.#book.visits.set(key, left);
    else {
      this.#book.visits.delete(key);
      if (yard !== 0) this.#book.away[day] = 0;
    }
  }

  #barKey = (dam: number, graft: number) => dam * this.#frame.days + graft;
  #baseOf = (dam: number, graft: number) =>
    this.#book.bars.has(this.#barKey(dam, graft)) ? 0 : this.#raising(dam).larvae.base;
  #raising(dam: number): Raising {
    const raising = this.#frame.ofDam[dam];
    if (raising === undefined) throw new RangeError(`no dam ${dam}`);
    return raising;
  }

  /** Whole queens, up to `wanted`, that the cells, the incubator and the nucs still take. */
  #queensReared(dam: number, { graft, day, queens: wanted }: Placement): number {
    const { larvae, ripePerLarva, nucsPerQueen, ripeAfter, latestAfter, emergedAfter } = this.#raising(dam);
    const { wish } = this.#frame;
    const { cells, ripe, nucs } = this.#book;
    const base = this.#baseOf(dam, graft);
    const whole = (queens: number) => Math.floor(queens + ROUNDING);
    let most = Math.min(
      wanted,
      whole((leastRoom(cells, graft, graft + wish.limits.cellDays - 1) - base) / larvae.perQueen),
    );
    if (most <= 0) return 0;
    const warm = leastRoom(ripe, graft + ripeAfter, graft + latestAfter) / ripePerLarva;
    most = Math.min(most, whole((warm - base) / larvae.perQueen));
    if (most <= 0) return 0;
    return Math.min(most, whole(leastRoom(nucs, graft + emergedAfter, day + wish.limits.nucDays) / nucsPerQueen));
  }

  #supply = (comb: { mother: number; in: number }, day: number): number =>
    this.#frame.ofMother[comb.mother]?.supplyAfter[day - comb.in] ?? 0;
  #nest = (mother: number): Float64Array | undefined => this.#book.nests[this.#frame.nestOf[mother] ?? -1];

  /** µl of a mother free on a day in combs already planned. */
  #inHand(mother: number, day: number): number {
    let sum = 0;
    for (const comb of this.#book.combs[mother]?.values() ?? [])
      sum += (comb.count - comb.used) * this.#supply(comb, day);
    return sum;
  }

  /**
   * The comb-in day that gives most on the day and has room in the nest; how many combs go in there. `meant` holds yards that other mothers of
   * the same placement are to be visited in.
   */
  #nextComb(
    mother: number,
    day: number,
    meant?: ReadonlyMap<number, number>,
  ): { mother: number; in: number; room: number } | null {
    const nest = this.#nest(mother);
    const { combsFor, combStay = 0 } = this.#frame.ofMother[mother] ?? {};
    const yard = this.#frame.yardOfMother[mother] ?? 0;
    for (const hung of combsFor?.[day] ?? NONE) {
      const room = nest === undefined ? 0 : leastRoom(nest, hung, hung + combStay - 1);
      const elsewhere = meant?.get(hung) ?? yard;
      if (room >= 1 && elsewhere === yard && this.#mayVisit(yard, hung))
        return { mother, in: hung, room: Math.floor(room) };
    }
    return null;
  }

  /** How many queens of a cross (up to `queens`) can still be placed on a day from a graft. */
  mostQueens(placement: Placement): number {
    const { cross, day, graft, queens } = placement;
    const dam = this.#frame.damOf[cross] ?? 0;
    const bench = Math.floor((this.#book.bench[day] ?? 0) + ROUNDING);
    if (bench <= 0 || !this.#mayVisit(this.#frame.yardOfDam[dam] ?? 0, graft)) return 0;
    const reared = this.#queensReared(dam, { ...placement, queens: Math.min(queens, bench) });
    return reared <= 0 ? 0 : this.#queensServed(cross, day, reared);
  }

  /** How many of `wanted` queens the drones can serve. */
  #queensServed(cross: number, day: number, wanted: number): number {
    let most = wanted;
    const meant = new Map<number, number>();
    for (const { mother, microlitres } of this.#frame.dronesOf[cross] ?? []) {
      const inHand = this.#inHand(mother, day);
      if (most <= 0 || inHand >= most * microlitres - ROUNDING) continue;
      const next = this.#nextComb(mother, day, meant);
      const yard = this.#frame.yardOfMother[mother] ?? 0;
      if (next !== null && yard !== 0 && this.#frame.wish.limits.oneYardADay) meant.set(next.in, yard);
      const reach = inHand + (next === null ? 0 : next.room * this.#supply(next, day));
      most = Math.min(most, Math.floor(reach / microlitres + ROUNDING));
    }
    return Math.max(0, most);
  }

  /** Visits the session and the graft of a placement would add. */
  plainVisits({ cross, day, graft }: Placement): number {
    const yard = this.#frame.yardOfDam[this.#frame.damOf[cross] ?? 0] ?? 0;
    return (this.isVisited(0, day) ? 0 : 1) + (this.isVisited(yard, graft) ? 0 : 1);
  }

  /** Visits its combs would add where none in hand is enough. */
  combVisits({ cross, day, queens }: Placement): number {
    let visits = 0;
    for (const { mother, microlitres } of this.#frame.dronesOf[cross] ?? []) {
      if (this.#inHand(mother, day) >= queens * microlitres - ROUNDING) continue;
      const next = this.#nextComb(mother, day);
      if (next !== null && !this.isVisited(this.#frame.yardOfMother[mother] ?? 0, next.in)) visits++;
    }
    return visits;
  }

  /** Takes (or, with -1, gives back) the room of rearing; the bar's base goes with its first and last placement. */
  #rear({ cross, day, graft, queens }: Placement, sign: 1 | -1): void {
    const { wish, damOf } = this.#frame;
    const book = this.#book;
    const dam = damOf[cross] ?? 0;
    const { larvae, ripePerLarva, nucsPerQueen, ripeAfter, latestAfter, emergedAfter } = this.#raising(dam);
    const key = this.#barKey(dam, graft);
    const others = (book.bars.get(key) ?? 0) - (sign === -1 ? 1 : 0);
    const grafted = sign * (queens * larvae.perQueen + (others === 0 ? larvae.base : 0));
    takeRoom(book.cells, graft, graft + wish.limits.cellDays - 1, grafted);
    takeRoom(book.ripe, graft + ripeAfter, graft + latestAfter, grafted * ripePerLarva);
    takeRoom(book.nucs, graft + emergedAfter, day + wish.limits.nucDays, sign * queens * nucsPerQueen);
    takeRoom(book.bench, day, day, sign * queens);
    book.reward += sign * queens * (wish.crosses[cross]?.worth ?? 1);
    if (sign === 1) book.bars.set(key, others + 1);
    else if (others === 0) book.bars.delete(key);
    else book.bars.set(key, others);
  }

  /** Takes the room of a placement that `mostQueens` allows. */
  place(placement: Placement): void {
    const { cross, day, graft, queens } = placement;
    this.#rear(placement, 1);
    this.#visit(0, day);
    this.#visit(this.#frame.yardOfDam[this.#frame.damOf[cross] ?? 0] ?? 0, graft);
    const needs = this.#frame.dronesOf[cross] ?? [];
    const uses = needs.flatMap(({ mother, microlitres }) => this.#useDrones(mother, day, queens * microlitres));
    this.#book.placed.push({ ...placement, uses });
  }

  #takeNest({ mother, in: hung }: { mother: number; in: number }, combs: number): void {
    const nest = this.#nest(mother);
    const { combStay = 0 } = this.#frame.ofMother[mother] ?? {};
    if (nest !== undefined) takeRoom(nest, hung, hung + combStay - 1, combs);
  }

  #useDrones(mother: number, day: number, wanted: number): { id: number; used: number }[] {
    const uses: { id: number; used: number }[] = [];
    let left = wanted;
    for (const comb of this.#book.combs[mother]?.values() ?? []) {
      const supply = this.#supply(comb, day);
      const used = supply === 0 ? 0 : Math.min(comb.count - comb.used, left / supply);
      if (used <= ROUNDING) continue;
      comb.used += used;
      left -= used * supply;
      uses.push({ id: comb.id, used });
    }
    return left > ROUNDING ? [...uses, this.#hangComb(mother, day, left)] : uses;
  }

  #hangComb(mother: number, day: number, wanted: number): { id: number; used: number } {
    const next = this.#nextComb(mother, day);
    if (next === null) throw new RangeError('a placement was made that mostQueens does not allow');
    const used = wanted / this.#supply(next, day);
    const count = Math.ceil(used - ROUNDING);
    this.#takeNest(next, count);
    const id = this.#book.nextComb++;
    this.#book.combs[mother]?.set(id, { id, mother, in: next.in, count, used });
    this.#visit(this.#frame.yardOfMother[mother] ?? 0, next.in);
    return { id, used };
  }

  /** Gives back the room of every placement of a cross; combs nobody needs any more are taken out. */
  takeBack(cross: number): void {
    const book = this.#book;
    for (const placed of book.placed.filter((one) => one.cross === cross)) {
      this.#rear(placed, -1);
      this.#unvisit(0, placed.day);
      this.#unvisit(this.#frame.yardOfDam[this.#frame.damOf[cross] ?? 0] ?? 0, placed.graft);
      for (const use of placed.uses) this.#freeComb(use);
    }
    book.placed = book.placed.filter((one) => one.cross !== cross);
  }

  #freeComb({ id, used }: { id: number; used: number }): void {
    for (const [mother, combs] of this.#book.combs.entries()) {
      const comb = combs.get(id);
      if (comb === undefined) continue;
      comb.used = Math.max(0, comb.used - used);
      const count = Math.ceil(comb.used - ROUNDING);
      this.#takeNest(comb, count - comb.count);
      comb.count = count;
      if (count > 0) return;
      combs.delete(id);
      this.#unvisit(this.#frame.yardOfMother[mother] ?? 0, comb.in);
    }
  }

  /** Uses of each comb by insemination day. */
  #usesById(): Map<number, CombUse[]> {
    const uses = new Map<number, CombUse[]>();
    for (const placed of this.#book.placed)
      for (const { id, used } of placed.uses) uses.set(id, [...(uses.get(id) ?? []), { day: placed.day, combs: used }]);
    return uses;
  }

  /** What has been placed so far. Combs of one mother hung in on one day are one entry. */
  plan(): PlannedSeason {
    const uses = this.#usesById();
    const combs = new Map<string, CombPlan>();
    for (const { id, mother, in: hung, count } of this.#book.combs.flatMap((one) => [...one.values()])) {
      const known = combs.get(`${mother}.${hung}`);
      combs.set(`${mother}.${hung}`, {
        mother,
        in: hung,
        count: count + (known?.count ?? 0),
        uses: sumUses([...(known?.uses ?? []), ...(uses.get(id) ?? [])]),
      });
    }
    const placements = this.#book.placed.map(({ cross, day, graft, queens }) => ({ cross, day, graft, queens }));
    return { placements, combs: [...combs.values()] };
  }
}

/** Uses of one day added up, in the order of days. */
function sumUses(uses: readonly CombUse[]): CombUse[] {
  const days = [...new Set(uses.map(({ day }) => day))].sort((a, b) => a - b);
  return days.map((day) => ({
    day,
    combs: uses.filter((use) => use.day === day).reduce((sum, { combs }) => sum + combs, 0),
  }));
}
