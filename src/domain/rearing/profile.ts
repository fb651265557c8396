import type { Figure } from './figure.ts';

/** Ages in whole days after emergence, both ends included. */
export type AgeWindow = { from: number; to: number };

/** When an insect can be used, and when it is best used. Outside `hard` is warned as unfit, outside `preferred` as second best. */
export type UsableAges = { hard: AgeWindow; preferred: AgeWindow; source: string };

/** Lengths in days. Fixed biology: a plan may leave slack beside them, but never stretches them. */
export type Timings = {
  /** From the larva moved into a cup (12-24 h old) to the queen out of her cell. */
  graftToEmergence: Figure;
  /** From the larva moved to the cell sealed. */
  graftToSealed: Figure;
  /** From the larva moved to the cell that can be taken out, a day or two before the earliest emergence. */
  graftToRipe: Figure;
  queenEggToEmergence: Figure;
  droneEggToSealed: Figure;
  droneEggToEmergence: Figure;
  workerEggToEmergence: Figure;
  workerEggToSealed: Figure;
  /** From the drone comb hung in to its first useful eggs. */
  combLead: Figure;
  /** From the starter made up to the graft. */
  starterLead: Figure;
};

/** Shares 0-1 of those that reached the step before. */
export type Survivals = {
  accepted: Figure;
  emergedQueens: Figure;
  /** Of emerged virgins, alive, sound and found on the day. */
  readyQueens: Figure;
  /** Of inseminated queens, laying capped worker brood. */
  layingQueens: Figure;
  /** Of the cells on a drone comb, those laid in the useful days. */
  cellsLaid: Figure;
  /** Of laid drone cells, drones that emerge. */
  emergedDrones: Figure;
  /** Of emerged drones, alive on the day 14 of their life. */
  dronesAtFourteen: Figure;
  /** Of living drones of age, caught for collection. */
  caughtDrones: Figure;
  /** Of drones handled, those that give usable semen. */
  yielding: Figure;
};

/** Volumes in µl, counts in cells. */
export type Yields = {
  /** µl from one yielding drone. */
  perDrone: Figure;
  /** Coefficient of variation of the volume between yielding drones. */
  perDroneVariation: Figure;
  /** µl of semen one queen is given. */
  dose: Figure;
  /** Share of the semen that is left in tip and tube. */
  leftBehind: Figure;
  /** Cells on both faces of one full drone comb. */
  cellsPerComb: Figure;
};

/** A named set of timings, survivals and windows: "standard text", "common practice", or the user's own. */
export type BiologyProfile = {
  name: string;
  timings: Timings;
  survivals: Survivals;
  yields: Yields;
  queens: UsableAges;
  drones: UsableAges;
  /** The ages a countback starts from when none are asked for. */
  usual: { queenAge: number; droneAge: AgeWindow; holdDays: number };
};
