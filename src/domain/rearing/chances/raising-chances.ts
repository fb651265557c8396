import { addCounts, type CountChances, countAtLeast, countQuantile } from '#numeric/chance/count-chances.ts';
import { known } from '#numeric/chance/count-steps.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { AgeWindow, BiologyProfile } from '../profile.ts';
import { type GraftState, readyQueens } from '../reality/day-plan.ts';
import { type Bite, droneBites, queenBites } from './bites.ts';
import { type DroneLot, ripeShare } from './drone-lot.ts';
import { type DronesToRaise, dronesToRaise } from './drones-to-raise.ts';
import { larvaeNeeded, lossesStairs, queenShares, queensThrough, type Stair } from './queen-losses.ts';
import { chanceOfSemen, semenDots, semenSupply } from './semen-supply.ts';

/** What one cross wants of its day, and what has been raised for it so far. */
export type RaisingFacts = {
  on: Day;
  queens: number;
  queenAge: number;
  droneAge: AgeWindow;
  /** µl of semen one queen is given, all her doses together. */
  microlitresAQueen: number;
  profile: BiologyProfile;
  /** The certainty asked for, such as 0.9. */
  sure: number;
  /** Bars grafted or planned for it, as far as they have come; how many of them are grafted. */
  grafts: readonly GraftState[];
  grafted: number;
  /** Queens other crosses are to have of the same bars: these come first. */
  others: number;
  /** The drone side: who, which part of the semen, and what there is or is planned of her drones; how many of her combs hang. */
  mothers: readonly { id: string; name: string; share: number; lots: readonly DroneLot[]; hung: number }[];
};

/** What numbers rest on: the least that would suffice, what is planned, or what is there. */
export type RestsOn = 'least' | 'planned' | 'there';

/** The queen side: how many larvae, what becomes of them, and how it looks with what is there. */
export type QueensToRaise = {
  /** Larvae to graft; `null` where no number is enough. */
  larvae: number | null;
  stairs: Stair[];
  /** Where the numbers below come from. */
  from: RestsOn;
  chance: number;
  /** Queens that go to other crosses first. */
  others: number;
  /** Twenty equally likely numbers of ready queens, lowest first; without those of other crosses. */
  dots: number[];
  bites: Bite[];
};

/** One drone mother: µl wanted of her, drones to raise, and how it looks. */
export type MotherToRaise = {
  id: string;
  name: string;
  microlitres: number;
  toRaise: DronesToRaise;
  from: RestsOn;
  chance: number;
  /** Twenty equally likely amounts of semen in µl, lowest first. */
  dots: number[];
};

/** What to raise for one cross so that it suffices with the certainty asked for. */
export type RaisingChances = {
  sure: number;
  queens: QueensToRaise;
  mothers: MotherToRaise[];
  /** Which loss of the drone side costs most. */
  droneBites: Bite[];
  /** The chance that both sides suffice; `null` while one of them cannot. */
  chance: number | null;
};

const DOTS = 20;

const dotsOf = (chances: CountChances): number[] =>
  Array.from({ length: DOTS }, (_, i) => countQuantile((i + 0.5) / DOTS, chances));

const restsOn = (there: number, known: number): RestsOn => {
  if (known === 0) return 'least';
  return there > 0 ? 'there' : 'planned';
};

const daysBefore = ({ queenAge, profile }: RaisingFacts) => queenAge + profile.timings.graftToEmergence.value;

/** The queen side without what takes long to work out. */
type QueensOutlook = Omit<QueensToRaise, 'bites'>;

function queensOutlook(facts: RaisingFacts): QueensOutlook {
  const { profile, on, queens, sure, grafts, others } = facts;
  const shares = queenShares(profile, { daysBefore: daysBefore(facts), ages: profile.queens.hard });
  const needed = larvaeNeeded(queens, shares, sure);
  const larvae = Number.isFinite(needed) ? needed : null;
  const least = () => queensThrough({ left: larvae ?? 0, after: 'grafted' }, shares);
  const raised = () => grafts.map((graft) => readyQueens(graft, on, profile)).reduce(addCounts, known(0));
  const taken = grafts.length > 0 ? others : 0;
  const ready = grafts.length > 0 ? raised() : least();
  return {
    larvae,
    stairs: larvae === null ? [] : lossesStairs({ left: larvae, after: 'grafted' }, shares),
    from: restsOn(facts.grafted, grafts.length),
    chance: countAtLeast(queens + taken, ready),
    others: taken,
    dots: dotsOf(ready).map((n) => Math.max(0, n - taken)),
  };
}

function queensToRaise(facts: RaisingFacts): QueensToRaise {
  const { profile, queens, sure } = facts;
  const outlook = queensOutlook(facts);
  const { larvae } = outlook;
  const bites = larvae === null ? [] : queenBites({ queens, daysBefore: daysBefore(facts), larvae, profile, sure });
  return { ...outlook, bites };
}

/** A comb laid in the useful days of the plan. */
const plannedLot = ({ on, droneAge, profile }: RaisingFacts, count: number): DroneLot => {
  const brood = profile.timings.droneEggToEmergence.value;
  return {
    counted: 'cells',
    count,
    laidFrom: addDays(on, -droneAge.to - brood),
    laidTo: addDays(on, -droneAge.from - brood),
  };
};

function motherToRaise(facts: RaisingFacts, mother: RaisingFacts['mothers'][number]): MotherToRaise {
  const { on, profile, sure, queens, microlitresAQueen } = facts;
  const microlitres = queens * microlitresAQueen * mother.share;
  const ripe = ripeShare(plannedLot(facts, 1), on, profile.drones.hard, profile);
  const toRaise = dronesToRaise({ microlitres, ripe, profile, sure });
  const cells = (toRaise.combs ?? 0) * profile.yields.cellsPerComb.value;
  const lots = mother.lots.length > 0 ? mother.lots : [plannedLot(facts, cells)];
  const supply = semenSupply({ lots, on, profile });
  return {
    id: mother.id,
    name: mother.name,
    microlitres,
    toRaise,
    from: restsOn(mother.hung, mother.lots.length),
    chance: chanceOfSemen(microlitres, supply),
    dots: semenDots(supply, DOTS),
  };
}

/** How one cross looks with what is there and planned for it: each side, and what gives first. */
export type CrossOutlook = {
  queens: { wanted: number; chance: number; dots: number[] };
  mothers: { name: string; wanted: number; chance: number; dots: number[] }[];
  /** The chance that both sides suffice; `null` without a drone side. */
  chance: number | null;
  /** What gives first: `queens`, or the place of a drone mother among `mothers`; `null` while all are as sure as asked for. */
  weakest: 'queens' | number | null;
};

/**
 * How one cross looks: ready queens, µl of each drone mother, the chance that all suffice, and which of them is the least sure. The numbers are those of
 * {@link raisingChances}, without what it would take to raise more.
 */
export function crossOutlook(facts: RaisingFacts): CrossOutlook {
  const { chance, dots } = queensOutlook(facts);
  const mothers = facts.mothers.map((mother) => {
    const { name, microlitres, chance: sure, dots: each } = motherToRaise(facts, mother);
    return { name, wanted: microlitres, chance: sure, dots: each };
  });
  const links = [chance, ...mothers.map((mother) => mother.chance)];
  const least = Math.min(...links);
  const at = links.indexOf(least);
  return {
    queens: { wanted: facts.queens, chance, dots },
    mothers,
    chance: mothers.length === 0 ? null : links.reduce((product, each) => product * each, 1),
    weakest: least >= facts.sure ? null : at === 0 ? 'queens' : at - 1,
  };
}

/**
 * What to raise for one cross, and how sure it is with what is there: larvae to graft, combs to hang, drones to have, each the least number that suffices
 * with the certainty asked for (queen-losses.ts, drones-to-raise.ts: beta-binomial steps, never mean times mean). Sides and mothers are taken as independent.
 * @example raisingChances({ on: day('2027-06-12'), queens: 12, …, sure: 0.9 }).queens.larvae // 26 by the standard text
 */
export function raisingChances(facts: RaisingFacts): RaisingChances {
  const queens = queensToRaise(facts);
  const mothers = facts.mothers.map((mother) => motherToRaise(facts, mother));
  const [first] = facts.mothers;
  const bites =
    first === undefined
      ? []
      : droneBites({
          microlitres: facts.queens * facts.microlitresAQueen,
          lot: plannedLot(facts, 1),
          on: facts.on,
          profile: facts.profile,
          sure: facts.sure,
        });
  const chances = [queens.chance, ...mothers.map(({ chance }) => chance)];
  return {
    sure: facts.sure,
    queens,
    mothers,
    droneBites: bites,
    chance: mothers.length === 0 ? null : chances.reduce((product, chance) => product * chance, 1),
  };
}
