import type { Day } from '#units/calendar-day.ts';

/** Two queens who changed places unnoticed on a day, and the day it was noticed. */
export type IdentityExchange = { one: string; other: string; exchanged: Day; noticed: Day };

/**
 * The queen a record really is about: between the exchange and its notice everything written of one is the other's. The day it
 * was noticed is already written right. Nothing is overwritten; several exchanges are followed in the order they happened.
 * @param recorded the queen as written
 * @param on the day the record is about; null = as written
 * @example queenMeant('27-015', '2027-06-10', exchanges) // '27-016'
 */
export function queenMeant(recorded: string, on: Day | null, exchanges: readonly IdentityExchange[]): string {
  if (on === null) return recorded;
  return [...exchanges]
    .filter((exchange) => on >= exchange.exchanged && on < exchange.noticed)
    .sort((a, b) => (a.exchanged < b.exchanged ? -1 : 1))
    .reduceRight((queen, { one, other }) => (queen === one ? other : queen === other ? one : queen), recorded);
}
