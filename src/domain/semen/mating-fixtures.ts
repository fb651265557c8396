import type { Day } from '#units/calendar-day.ts';
import type { DroneSource } from './drone-source.ts';
import type { InseminationFact, MatingFacts, NaturalMatingFact, SellersWord, StatedSources } from './mating-facts.ts';

/** A drone mother by her code. For tests and examples only. */
export const mother = (queen: string): DroneSource => ({ kind: 'mother', queen });

/** `stated(8, [mother('M'), 0.6], [mother('N'), null])`: what somebody says a queen got. */
export const stated = (
  drones: number | null,
  ...sources: [of: DroneSource, share: number | null][]
): StatedSources => ({
  sources: sources.map(([of, share]) => ({ of, share })),
  drones,
});

/** An insemination on a day, of ledger lines or of stated drone mothers. */
export const dose = (day: string | null, told: Partial<InseminationFact>): InseminationFact => ({
  id: `dose on ${day}`,
  queen: 'Q',
  day: day as Day | null,
  done: true,
  draws: [],
  stated: null,
  semen: null,
  leftNothing: false,
  ...told,
});

/** A mating flight. */
export const flight = (day: string | null, told: Partial<NaturalMatingFact>): NaturalMatingFact => ({
  queen: 'Q',
  from: day as Day | null,
  to: day as Day | null,
  season: null,
  drones: null,
  suspected: true,
  share: null,
  ...told,
});

/** What is written about the matings of a queen. */
export const matings = (queen: string, told: Partial<Omit<MatingFacts, 'queen'>>): MatingFacts => ({
  queen,
  inseminations: [],
  naturalMatings: [],
  sellersWords: [] as SellersWord[],
  ...told,
});
