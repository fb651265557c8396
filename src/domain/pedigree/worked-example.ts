/**
 * The small stock that the examples of this library speak of: founders C, A and B; drones of C alone are in A (ten of them) and in B (one); batch P holds
 * half the sperm of Q3's drones and half of C's, and carried A's later daughters. Every example is run by tests/examples.test.ts.
 *
 * | queen | mother | carries |
 * |---|---|---|
 * | A | – | `sA`: 10 drones of C |
 * | B | – | `sB`: 1 drone of C |
 * | C | – | nothing known |
 * | Q1, Q2 | A | `P`: 5 drones of Q3, 5 of C |
 * | Q3 | B | `sQ3`: 12 unrelated drones |
 * | Q4 | B | nothing known |
 */
import { day } from '#units/calendar-day.ts';
import type { PedigreeFacts } from './facts.ts';
import type { Pedigree } from './laid-pedigree.ts';
import { layPedigreeOf } from './pedigree.ts';

/** The small stock as facts: seven queens, four pools. */
export const workedStock = {
  queens: [
    { id: 'A', pool: 'sA', born: day('2023-06-01') },
    { id: 'B', pool: 'sB', born: day('2023-06-01') },
    { id: 'C', born: day('2022-06-01') },
    { id: 'Q1', dam: 'A', pool: 'P', born: day('2024-06-01') },
    { id: 'Q2', dam: 'A', pool: 'P', born: day('2024-06-01') },
    { id: 'Q3', dam: 'B', pool: 'sQ3', born: day('2024-06-01') },
    { id: 'Q4', dam: 'B', born: day('2024-06-01') },
  ],
  pools: [
    { id: 'sA', name: 'semen of A', sources: [{ queen: 'C', share: 1, drones: 10 }] },
    { id: 'sB', name: 'semen of B', sources: [{ queen: 'C', share: 1, drones: 1 }] },
    {
      id: 'P',
      name: 'batch P',
      sources: [
        { queen: 'Q3', share: 0.5, drones: 5 },
        { queen: 'C', share: 0.5, drones: 5 },
      ],
    },
    { id: 'sQ3', name: 'semen of Q3', sources: [{ open: true, share: 1, drones: 12 }] },
  ],
} as const satisfies PedigreeFacts;

/**
 * The small stock laid out.
 * @example workedPedigree().inbreeding // [0, 0, 0, 0, 0, 0, 0]
 */
export function workedPedigree(): Pedigree {
  const { pedigree } = layPedigreeOf(workedStock);
  if (pedigree === null) throw new Error('the small stock has problems');
  return pedigree;
}
