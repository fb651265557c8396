import { z } from 'zod';
import { idShape } from '#records/field.ts';
import { refuse } from '#units/problem.ts';
import { action } from '../mechanism/action.ts';
import { setting } from '../mechanism/recording.ts';

const words = z.string().trim().min(1).max(200).nullable().optional();

const input = z.strictObject({
  bench_day: idShape,
  place: words,
  operator: idShape.nullable().optional(),
  saline: idShape.nullable().optional(),
  gas_bottle: words,
  first_tip: z.int().min(0).nullable().optional(),
});

/** Changes what was set out for a bench day: place, operator, saline, gas bottle, first tip. */
export const changeBenchDay = action({
  name: 'change-bench-day',
  place: 'bench',
  what: 'Change the place, operator, saline, gas bottle or first tip of a bench day.',
  input,
  async run({ bench_day, ...given }, { book }) {
    if ((await book.get('bench_day', bench_day)) === null) {
      const values = { kind: 'bench_day', id: bench_day };
      return { changes: [], result: null, problems: [refuse('bench_day', 'unknown-record', values)] };
    }
    const set = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
    return { changes: [setting('bench_day', bench_day, set)], result: { id: bench_day } };
  },
});
