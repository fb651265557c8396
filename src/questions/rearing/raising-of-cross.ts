import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Wish } from '#domain/rearing/wish.ts';
import { lateReads } from '#gather/late-raising.ts';
import { gatherCombs, type SeasonComb } from '#gather/season-combs.ts';
import type { Facts } from '#ports/store.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { type GatheredRaised, gatherRaised, raisedBar, raisedComb, raisedReads } from './gather-raised.ts';
import { gatherToRaise } from './gather-to-raise.ts';
import type { Raising } from './lanes.ts';
import { serving } from './serving.ts';

/** The kinds the lanes of a cross are drawn from. */
export const raisingReads = [...raisedReads, ...lateReads, 'queen'] as const;

/** A cross, its two sides, and the times it is raised by; `wish` is `null` while it has no day. */
export type ToBeRaised = {
  cross: RecordId;
  wish: Wish | null;
  profile: BiologyProfile;
  dams: readonly RecordId[];
  sources: readonly RecordId[];
};

/** What a cross is raised from, as its lanes are drawn; and the combs and bars of the book among it. */
export type RaisingOfCross = { raising: Raising; mine: ReturnType<typeof serving>; called: (id: string) => string };

type Book = { raised: GatheredRaised; combs: readonly SeasonComb[] };

/**
 * Reads what crosses are raised from: combs and bars as they were seen, beside where the plan had them, and what is planned and has not begun. The book is
 * read once for all crosses of the same times.
 */
export function raisingReader(facts: Facts, today: Day): (of: ToBeRaised) => Promise<RaisingOfCross> {
  const books = new Map<BiologyProfile, Book>();
  const bookBy = async (profile: BiologyProfile): Promise<Book> => {
    const known = books.get(profile);
    if (known !== undefined) return known;
    const book = {
      raised: await gatherRaised(facts, profile),
      combs: await gatherCombs(facts, { today, usual: profile }),
    };
    books.set(profile, book);
    return book;
  };
  return async ({ cross, wish, profile, dams, sources }) => {
    const { raised, combs } = await bookBy(profile);
    const { called } = raised;
    const mine = serving(wish, raised, { cross, dams: new Set(dams), mothers: new Set(sources) });
    const { planned, plannedOn } = await gatherToRaise(facts, { cross, profile, today, combs, called });
    const asPlanned = <T extends { id: string }>(one: T) => ({ ...one, planned: plannedOn.get(one.id) ?? null });
    return {
      mine,
      called,
      raising: {
        combs: mine.combs.flatMap(raisedComb).map(asPlanned),
        bars: mine.bars.map(raisedBar).map(asPlanned),
        planned,
        droneMothers: sources.map((mother) => ({ id: mother, name: called(mother) })),
        dams: dams.map(called).join(', '),
      },
    };
  };
}
