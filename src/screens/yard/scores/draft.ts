import type { Day } from '#units/calendar-day.ts';

/** One trait as it is being entered; what is missing is not said. */
export type Entry = {
  value?: number | null;
  counted?: number | null;
  among?: number | null;
  empty_before?: number | null;
  method?: 'pin' | 'freeze' | 'wash' | 'sugar' | 'fall' | 'weighed' | 'before-winter' | 'after-winter';
  span_from?: Day | null;
  not_judged?: 'weather' | 'too-weak' | 'no-time' | 'queen-unsure' | 'not-said';
};

/** The traits of a card as entered so far, by name. */
export type Draft = Readonly<Record<string, Entry>>;

/** A reading as the action takes it. */
export type Reading = { trait: string } & {
  [F in keyof Entry]?: NonNullable<Entry[F]>;
};

/** What is to be kept of a draft: traits with a value, a count, the cells of a test begun, or a reason. */
export function readingsOf(draft: Draft): Reading[] {
  return Object.entries(draft).flatMap(([trait, entry]) => {
    if (entry.not_judged !== undefined) return [{ trait, not_judged: entry.not_judged }];
    const said = Object.entries(entry).filter(([, value]) => value !== null && value !== undefined);
    const isRead = ['value', 'counted', 'among'].some((field) => said.some(([name]) => name === field));
    return isRead ? [{ trait, ...Object.fromEntries(said) } as Reading] : [];
  });
}
