import type { Sight } from '#domain/living/check.ts';

/** A comb cell from the side: open above. */
const CELL = 'M5 3v13a5 5 0 0 0 5 5h4a5 5 0 0 0 5-5V3';
/** Walls of three cells. */
const WALLS = 'M3 11v10M9 11v10M15 11v10M21 11v10';
/** A queen from above: head, thorax, long abdomen. */
const QUEEN =
  'M12 2.5a2 2 0 1 1 0 4a2 2 0 1 1 0-4M12 6.5a3 2.5 0 1 1 0 5a3 2.5 0 1 1 0-5M9 12.5c-1 3 0 7 3 9.5c3-2.5 4-6.5 3-9.5';

const strokes: Readonly<Record<Sight, string>> = {
  'no-eggs': CELL,
  eggs: `${CELL}M12 18v-6`,
  'several-in-a-cell': `${CELL}M9 17v-5M12 18v-6M15 17v-5`,
  'worker-caps': `${WALLS}M2 10h20`,
  'drone-caps': `${WALLS}M3 11a3 6 0 0 1 6 0a3 6 0 0 1 6 0a3 6 0 0 1 6 0`,
  'queen-cells': 'M7 2h10M9 2c-3 6-2 11 0 16c1.200 4 4.800 4 6 0c2-5 3-10 0-16M9 8h6M8.500 13h7',
  'another-queen': `${QUEEN}M3 5h4M5 3v4`,
  'queen-gone': QUEEN,
  'own-workers':
    'M12 3a2.500 2.500 0 1 1 0 5a2.500 2.500 0 1 1 0-5M12 8a4 6.500 0 1 1 0 13a4 6.500 0 1 1 0-13M8.500 13h7M8.500 17h7M8 9L3 6M16 9l5-3',
  'not-opened': 'M5 9h14v12H5ZM3 9h18M8 9l1-4h6l1 4M9 15h6',
};

/**
 * What can be seen in a nuc, drawn on 24 × 24 with a line of 2 px: flat caps are workers, domed caps drones. The word stands
 * beside it, so the drawing has no name of its own.
 */
export function SightDrawing({ sight }: { sight: Sight }) {
  return (
    <svg className={`sight ${sight}`} viewBox="0 0 24 24" aria-hidden="true">
      <path d={strokes[sight]} />
    </svg>
  );
}
