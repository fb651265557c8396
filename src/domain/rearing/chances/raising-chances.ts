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
  /** Bars grafted for it, as far as they have come. */
  grafts: readonly GraftState[];
  /** The drone side: who, which part of the semen, and what there is of her drones. */
  mothers: readonly { id: string; name: string; share: number; lots: readonly DroneLot[] }[];
};

/** The queen side: how many larvae, what becomes of them, and how it looks with what is there. */
export type QueensToRaise = {
  /** Larvae to graft; `null` where no number is enough. */
  larvae: number | null;
  stairs: Stair[];
  /** Where the numbers below come from: the planned graft, or bars that are there. */
  from: 'plan' | 'bars';
  chance: number;
  /** Twenty equally likely numbers of ready queens, lowest first. */
  dots: number[];
  bites: Bite[];
};

/** One drone mother: µl wanted of her, drones to raise, and how it looks. */
export type MotherToRaise = {
  id: string;
  name: string;
  microlitres: number;
  toRaise: DronesToRaise;
  from: 'plan' | 'combs';
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

function queensToRaise(facts: RaisingFacts): QueensToRaise {
  const { profile, on, queens, sure, grafts } = facts;
  const daysBefore = facts.queenAge + profile.timings.graftToEmergence.value;
  const shares = queenShares(profile, { daysBefore, ages: profile.queens.hard });
  const needed = larvaeNeeded(queens, shares, sure);
  const larvae = Number.isFinite(needed) ? needed : null;
  const planned = () => queensThrough({ left: larvae ?? 0, after: 'grafted' }, shares);
  const raised = () => grafts.map((graft) => readyQueens(graft, on, profile)).reduce(addCounts, known(0));
  const ready = grafts.length > 0 ? raised() : planned();
  return {
    larvae,
    stairs: larvae === null ? [] : lossesStairs({ left: larvae, after: 'grafted' }, shares),
    from: grafts.length > 0 ? 'bars' : 'plan',
    chance: countAtLeast(queens, ready),
    dots: dotsOf(ready),
    bites: larvae === null ? [] : queenBites({ queens, daysBefore, larvae, profile, sure }),
  };
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
    from: mother.lots.length > 0 ? 'combs' : 'plan',
    chance: chanceOfSemen(microlitres, supply),
    dots: semenDots(supply, DOTS),
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
