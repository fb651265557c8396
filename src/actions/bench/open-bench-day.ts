import { z } from 'zod';
import { dayShape, idShape } from '#records/field.ts';
import { dayOfMoment } from '#units/moment.ts';
import { action } from '../mechanism/action.ts';
import { creating } from '../mechanism/recording.ts';

const words = z.string().trim().min(1).max(200);

const input = z.strictObject({
  day: dayShape.optional(),
  place: words.optional(),
  /** The zone of the clock at the bench, `Europe/Berlin`; that of the act when nothing is said. */
  zone: words.optional(),
  operator: idShape.optional(),
  saline: idShape.optional(),
  gas_bottle: words.optional(),
  first_tip: z.int().min(0).optional(),
});

const zoneOf = (moment: string): string => /\[([^\]]+)\]/.exec(moment)?.[1] ?? 'UTC';

/** Opens a day at the microscope. Every bench record belongs to one; it may run past midnight. */
export const openBenchDay = action({
  name: 'open-bench-day',
  place: 'bench',
  what: 'Open a day at the microscope: place, operator, saline, gas bottle, first tip.',
  input,
  async run(given, { newId, done }) {
    const id = newId();
    const { day = dayOfMoment(done), zone = zoneOf(done), ...rest } = given;
    return { changes: [creating('bench_day', id, { ...rest, day, zone, opened: done })], result: { id } };
  },
});
