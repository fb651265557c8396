import type { DroneLot } from '#domain/rearing/chances/drone-lot.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import type { SeasonComb } from './season-combs.ts';

/** A part of the drone side: the id of a drone mother, a sister group or a line, and her share of the semen. */
export type SeasonSource = { id: RecordId; isQueen: boolean; share: number };

/** A cross as far as it asks for drones. */
export type Sharer = { row: Row<'cross'>; sources: readonly SeasonSource[] };

/** Shares of the semen; those not given take equal parts of what is left. */
export function droneSharesOf(rows: readonly Row<'cross_drone_source'>[]): SeasonSource[] {
  const given = rows.reduce((sum, { share }) => sum + (share ?? 0), 0);
  const open = rows.filter(({ share }) => share === null).length;
  return rows.flatMap(({ queen, sister_group, line, share }) => {
    const id = queen ?? sister_group ?? line;
    if (id === null) return [];
    return [{ id, isQueen: queen !== null, share: share ?? Math.max(0, 1 - given) / Math.max(1, open) }];
  });
}

/** µl a cross wants of one part of its drone side. */
export const wantedOf = ({ row, sources }: Sharer, source: RecordId): number =>
  sources
    .filter(({ id }) => id === source)
    .reduce((sum, { share }) => sum + row.queens_wanted * row.dose_ul * (row.doses ?? 1) * share, 0);

/**
 * Whether drones of a comb stand for a part of the drone side: that mother's own, or one of the line or group; for a line or group also a comb given to the
 * cross of a mother it does not name.
 */
function standsFor({ mothers, uses }: SeasonComb, source: RecordId, { row, sources }: Sharer): boolean {
  const asked = sources.find(({ id }) => id === source);
  if (asked === undefined) return false;
  if (mothers.includes(source)) return true;
  return !asked.isQueen && uses.has(row.id) && !sources.some(({ id }) => mothers.includes(id));
}

/** Whether drones of a lot are of a usable age on a day. */
function isOfAge(lot: DroneLot, on: Day, usual: BiologyProfile): boolean {
  const { timings, drones } = lot.profile ?? usual;
  const brood = timings.droneEggToEmergence.value;
  const [from, to] =
    'laidFrom' in lot ? [addDays(lot.laidFrom, brood), addDays(lot.laidTo, brood)] : [lot.emergedFrom, lot.emergedTo];
  return addDays(from, drones.hard.from) <= on && on <= addDays(to, drones.hard.to);
}

/** Whose drones are asked for: of one part of the drone side, for some crosses among all that are still to be inseminated. */
export type DronesAsked = {
  source: RecordId;
  here: readonly Sharer[];
  all: readonly Sharer[];
  combs: readonly SeasonComb[];
  usual: BiologyProfile;
};

/**
 * What part of a comb is for these crosses: as it was given to them; else, where nobody said, as they need semen beside all who need some of it on a day
 * its drones are of age.
 */
function partFor(comb: SeasonComb, { source, here, all, usual }: DronesAsked): number {
  const given = [...comb.uses.values()].reduce((sum, combs) => sum + combs, 0);
  if (given > 0) return here.reduce((sum, { row }) => sum + (comb.uses.get(row.id) ?? 0), 0) / given;
  const need = (crosses: readonly Sharer[]) =>
    crosses
      .filter(({ row }) => row.inseminate_on !== null && isOfAge(comb.lot, row.inseminate_on, usual))
      .reduce((sum, cross) => sum + wantedOf(cross, source), 0);
  const whole = need(all);
  return whole === 0 ? 0 : need(here) / whole;
}

/** `part` of a lot, in whole drones or cells. */
export const partOf = (lot: DroneLot, part: number): DroneLot => ({ ...lot, count: Math.round(lot.count * part) });

/** Combs that have drones for the crosses, each with the part of its lot that is theirs. */
export function combsFor(asked: DronesAsked): { comb: SeasonComb; lot: DroneLot }[] {
  const { source, here, combs } = asked;
  return combs
    .filter((comb) => here.some((cross) => standsFor(comb, source, cross)))
    .map((comb) => ({ comb, lot: partOf(comb.lot, partFor(comb, asked)) }))
    .filter(({ lot }) => lot.count > 0);
}
