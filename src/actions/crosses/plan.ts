import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';

const words = (most: number) => z.string().trim().min(1).max(most);

/** What a person writes down of a cross. */
export const crossShape = z.strictObject({
  code: words(100),
  purpose: words(1_000).nullable().optional(),
  queens_wanted: z.int().min(0).max(10_000),
  /** µl of semen a queen. */
  dose_ul: z.number().min(0).max(100),
  doses: z.int().nullable().optional(),
  /** Effective drones that stand behind one dose. */
  drones: z.number().positive().max(10_000).nullable().optional(),
  inseminate_on: dayShape.nullable().optional(),
  latest_on: dayShape.nullable().optional(),
  queen_age: z.int().nullable().optional(),
  drone_age_from: z.int().nullable().optional(),
  drone_age_to: z.int().nullable().optional(),
  hold_days: z.int().nullable().optional(),
  profile: words(100).nullable().optional(),
  /** Age of the larvae at the graft in hours, and °C brood and cells are kept at, where they are not as usual. */
  larva_age_hours: z.number().min(1).max(96).nullable().optional(),
  brood_celsius: z.number().min(30).max(38).nullable().optional(),
  /** First insemination day that would do, for the season plan; `latest_on` is the last. */
  earliest_on: dayShape.nullable().optional(),
  /** Worth of one of its queens beside those of other crosses. */
  worth: z.number().positive().max(1_000).nullable().optional(),
  /** The season plan leaves its day alone. */
  keep_day: z
    .union([z.literal(0), z.literal(1)])
    .nullable()
    .optional(),
});

/** One part of the drone side: a drone mother, a sister group or a line, and her share of the semen. */
export const sourceShape = z.strictObject({
  queen: idShape.nullable().optional(),
  sister_group: idShape.nullable().optional(),
  line: idShape.nullable().optional(),
  share: z.number().min(0).max(1).nullable().optional(),
});

export const standInShape = z.strictObject({ queen: idShape, side: z.enum(['queen', 'drone']) });

/** What makes up for a day that is too near to raise everything anew. */
export const thereShape = {
  /** Mature drones of the drone side are there already. */
  drones_there: z.boolean().optional(),
  /** Virgins of the queen side are there already, or their cells. */
  virgins_there: z.boolean().optional(),
};

export type SourceEntry = z.infer<typeof sourceShape>;
export type StandIn = z.infer<typeof standInShape>;

/** A whole plan as it is checked: every field known or `null`. */
export type Plan = {
  cross: Omit<Row<'cross'>, 'id' | 'cancelled'>;
  /** The cross itself, when it is in the book already. */
  id: RecordId | null;
  dams: readonly RecordId[];
  sources: readonly SourceEntry[];
  standIns: readonly StandIn[];
  dronesThere: boolean;
  virginsThere: boolean;
};

/** The fields of a cross with what was not given as not known. */
export function crossFields(given: z.infer<typeof crossShape>): Plan['cross'] {
  const none = null;
  return {
    purpose: none,
    doses: none,
    drones: none,
    inseminate_on: none,
    latest_on: none,
    queen_age: none,
    drone_age_from: none,
    drone_age_to: none,
    hold_days: none,
    profile: none,
    earliest_on: none,
    worth: none,
    keep_day: none,
    larva_age_hours: none,
    brood_celsius: none,
    ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
    code: given.code,
    queens_wanted: given.queens_wanted,
    dose_ul: given.dose_ul,
  };
}

/** The id of the one a part of the drone side names. */
export const namedBy = ({ queen, sister_group, line }: SourceEntry): RecordId | null =>
  queen ?? sister_group ?? line ?? null;
