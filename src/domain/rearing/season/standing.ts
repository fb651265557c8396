import type { Day } from '#units/calendar-day.ts';
import type { BiologyProfile } from '../profile.ts';

/** A bar that stands: grafted, or planned for a cross the planner leaves alone. */
export type StandingBar = {
  dam: string;
  day: Day;
  /** Larvae on it; `null` where only the queens it is to give are known. */
  larvae: number | null;
  /** Cells accepted, once they were counted. */
  accepted: number | null;
  queens: number;
  /** Its own times, where they are not those of the season. */
  profile?: BiologyProfile;
};

/** Drone combs that stand in a nest: hung in, or planned for a cross the planner leaves alone. */
export type StandingCombs = {
  /** The drone mother, and the line or sister group she may stand in for. */
  mothers: readonly string[];
  day: Day;
  /** `null` where only the µl are known that they are to give on a day. */
  combs: number | null;
  semen?: { microlitres: number; on: Day };
  profile?: BiologyProfile;
};

/** Queens of a cross the planner leaves alone: inseminated on a day, their nucs held from a day on. */
export type StandingQueens = { on: Day; queens: number; nucs: number; nucsFrom: Day };

/** What is raised, kept or planned already for crosses the planner leaves alone. It takes room of everything that is scarce. */
export type Standing = {
  bars: readonly StandingBar[];
  combs: readonly StandingCombs[];
  queens: readonly StandingQueens[];
};
