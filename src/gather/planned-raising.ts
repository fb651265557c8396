import type { RaisingShift } from '#domain/rearing/reality/raising-shift.ts';
import type { Facts } from '#ports/store.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';

/** Bars and combs that are planned and not raised yet. */
export type PlannedRaising = { bars: Row<'planned_graft'>[]; combs: Row<'planned_comb'>[] };

/** Planned bars and combs not begun yet that serve these crosses and no other. */
export async function plannedForAlone(facts: Facts, crosses: ReadonlySet<RecordId>): Promise<PlannedRaising> {
  const ids = [...crosses];
  const barUses = await facts.find('planned_graft_use', { cross: ids });
  const combUses = await facts.find('planned_comb_use', { cross: ids });
  const barIds = [...new Set(barUses.map(({ planned_graft }) => planned_graft))];
  const combIds = [...new Set(combUses.map(({ planned_comb }) => planned_comb))];
  const shared = new Set<RecordId>();
  for (const use of await facts.find('planned_graft_use', { planned_graft: barIds }))
    if (!crosses.has(use.cross)) shared.add(use.planned_graft);
  for (const use of await facts.find('planned_comb_use', { planned_comb: combIds }))
    if (!crosses.has(use.cross)) shared.add(use.planned_comb);
  const open = { cancelled: null } as const;
  return {
    bars: (await facts.find('planned_graft', { id: barIds, graft: null, ...open })).filter(({ id }) => !shared.has(id)),
    combs: (await facts.find('planned_comb', { id: combIds, drone_comb: null, ...open })).filter(
      ({ id }) => !shared.has(id),
    ),
  };
}

/** Those of them that can still be moved: not ticked as grafted or hung in. What is late is not known to be done, and can. */
export async function openForAlone(facts: Facts, crosses: ReadonlySet<RecordId>): Promise<PlannedRaising> {
  const { bars, combs } = await plannedForAlone(facts, crosses);
  const grafted = await facts.find('task', { planned_graft: bars.map(({ id }) => id), key: 'graft' });
  const hung = await facts.find('task', { planned_comb: combs.map(({ id }) => id), key: 'drone-comb-in' });
  const done = new Set(
    [...grafted, ...hung].flatMap(({ done_on, planned_graft, planned_comb }) =>
      done_on === null ? [] : [planned_graft ?? planned_comb],
    ),
  );
  return {
    bars: bars.filter(({ id }) => !done.has(id)),
    combs: combs.filter(({ id }) => !done.has(id)),
  };
}

/** What of it goes along when days go later by so much, on its new days; what would have to be done before today stays. */
export async function goingAlong(
  facts: Facts,
  crosses: ReadonlySet<RecordId>,
  { queens, drones }: RaisingShift,
  today: Day,
): Promise<PlannedRaising> {
  const { bars, combs } = await openForAlone(facts, crosses);
  return {
    bars:
      queens === 0
        ? []
        : bars.map((bar) => ({ ...bar, day: addDays(bar.day, queens) })).filter(({ day }) => day >= today),
    combs:
      drones === 0
        ? []
        : combs.map((comb) => ({ ...comb, in_on: addDays(comb.in_on, drones) })).filter(({ in_on }) => in_on >= today),
  };
}
