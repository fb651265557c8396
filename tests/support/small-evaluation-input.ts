/** The small evaluation of tests/golden/worth as a plain input, with a day of birth for every queen. */
import type { EvaluationInput } from '#domain/worth/evaluation-input.ts';
import type { Day } from '#units/calendar-day.ts';

const day = (text: string): Day => text as Day;

const row = (queen: string, level: string, honey: number): EvaluationInput['records'][number] => ({
  queen,
  levels: [level],
  values: [honey],
  record: `card ${queen}`,
});

/** Numbers in tests/golden/worth/README.md hold for it. */
export const smallInput = (): EvaluationInput => ({
  pedigree: {
    queens: [
      { id: 'A', pool: 'sA', born: day('2021-06-01') },
      { id: 'B', pool: 'sB', born: day('2021-06-01') },
      { id: 'C', born: day('2021-06-01') },
      { id: 'Q1', dam: 'A', pool: 'P', born: day('2023-06-01') },
      { id: 'Q2', dam: 'A', pool: 'P', born: day('2023-06-01') },
      { id: 'Q3', dam: 'B', born: day('2022-06-01') },
      { id: 'Q4', dam: 'B', born: day('2022-06-01') },
    ],
    pools: [
      { id: 'sA', sources: [{ queen: 'C', share: 1, drones: 10 }] },
      { id: 'sB', sources: [{ queen: 'C', share: 1, drones: 1 }] },
      {
        id: 'P',
        sources: [
          { queen: 'Q3', share: 0.5, drones: 5 },
          { queen: 'C', share: 0.5, drones: 5 },
        ],
      },
    ],
  },
  records: [
    row('A', '1:2025', 42),
    row('B', '1:2025', 35),
    row('Q1', '1:2025', 47),
    row('Q2', '2:2025', 30),
    row('Q3', '2:2025', 28),
    row('Q4', '2:2025', 21),
  ],
  model: {
    traits: ['honey'],
    fixed: [['yard', 'year']],
    G: Float64Array.of(6, -2, -2, 4),
    R: Float64Array.of(10),
  },
});
