import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { gatherLate, reckonedOn } from '#gather/late-raising.ts';
import { openForAlone } from '#gather/planned-raising.ts';
import { combLateBy, type SeasonComb } from '#gather/season-combs.ts';
import type { Facts } from '#ports/store.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Raising } from './lanes.ts';

/** What the season plan has for a cross: bars and combs not begun, and the day each of those that began was planned to. */
export type PlanOfCross = { planned: NonNullable<Raising['planned']>; plannedOn: ReadonlyMap<string, Day> };

type Told = {
  cross: RecordId;
  profile: BiologyProfile;
  today: Day;
  /** Every comb of the book and of the plan, by the times of the cross. */
  combs: readonly SeasonComb[];
  called: (id: string) => string;
};

/** Reads what the season plan has for a cross. */
export async function gatherToRaise(facts: Facts, told: Told): Promise<PlanOfCross> {
  const { cross, profile, today, called } = told;
  const { combLead } = profile.timings;
  const going = await openForAlone(facts, new Set([cross]));
  const late = await gatherLate(facts, today);
  const goes = new Set<string>([...going.bars, ...going.combs].map(({ id }) => id));
  const ids = (await facts.find('planned_graft_use', { cross })).map(({ planned_graft }) => planned_graft);
  const bars = await facts.find('planned_graft', { id: [...new Set(ids)], cancelled: null });
  const combs = told.combs.filter(({ uses, planned }) => planned !== null && uses.has(cross));
  const begunBars = bars.flatMap(({ graft, day }) => (graft === null ? [] : [[graft, day] as const]));
  const begunCombs = combs.flatMap(({ comb, planned }) =>
    comb === null || planned === null ? [] : [[comb.id, addDays(planned.in_on, combLead.value)] as const],
  );
  return {
    plannedOn: new Map<string, Day>([...begunBars, ...begunCombs]),
    planned: {
      bars: bars
        .filter(({ graft }) => graft === null)
        .map(({ id, dam, day }) => {
          const from = reckonedOn(day, late.has(id), today);
          const lateBy = late.has(id) ? daysBetween(day, today) : 0;
          return { id, who: called(dam), begun: { from, to: from }, goes: goes.has(id), due: day, late: lateBy };
        }),
      combs: combs.flatMap((one) => {
        const {
          id,
          comb,
          lot,
          mothers: [mother],
        } = one;
        return comb !== null || mother === undefined || !('laidFrom' in lot)
          ? []
          : [
              {
                id,
                mother,
                who: called(mother),
                begun: { from: lot.laidFrom, to: lot.laidTo },
                goes: goes.has(id),
                due: one.planned?.in_on ?? lot.laidFrom,
                late: combLateBy(one, today),
              },
            ];
      }),
    },
  };
}
