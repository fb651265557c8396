import '../style/semen.css';
import type { CSSProperties } from 'react';
import { dosesLeft } from '#domain/semen/next-dose.ts';
import type { NamedPart } from '#questions/semen/source-names.ts';
import { say } from '#words/say.ts';
import { ageDays } from './semen-words.ts';

type Drawn = {
  left: number;
  full: number;
  dose: number;
  layers: readonly { microlitres: number; mothers: readonly NamedPart[] }[];
  since: string | null;
  condemned: boolean;
};

const MOST_TICKS = 60;
const percent = (part: number): string => `${(part * 100).toFixed(2)}%`;

/** How near the lines of the hatch stand, px: fresh semen is plain, the older the denser; each doubling of age brings them closer. */
const hatchGap = (days: number): number => Math.max(3, 15 - 3 * Math.log2(1 + days));

/** Which of several drone mothers a layer is drawn as: ink, half-tone, dots, lines, and round again. */
function patternOf(mothers: readonly NamedPart[], all: readonly string[]): string {
  const [first, ...others] = mothers;
  if (first === undefined) return 'unknown';
  if (others.length > 0) return 'mixed';
  return `kind-${Math.max(0, all.indexOf(first.name)) % 4}`;
}

/** The mothers in a tube by name, in the order of its layers. */
export const motherNames = (layers: Drawn['layers']): string[] => [
  ...new Set(layers.flatMap(({ mothers }) => mothers.map(({ name }) => name))),
];

function Layers({ left, full, layers }: Pick<Drawn, 'left' | 'full' | 'layers'>) {
  const names = motherNames(layers);
  const whole = layers.reduce((sum, { microlitres }) => sum + microlitres, 0);
  // The end it was filled by, where semen leaves, is drawn on the right.
  const drawn = [...layers].reverse();
  return (
    <span className="column" style={{ width: percent(Math.max(0, left) / full) }}>
      {drawn.map(({ microlitres, mothers }, i) => (
        <span
          key={i}
          className={`layer ${patternOf(mothers, names)}`}
          style={{ width: percent(whole > 0 ? microlitres / whole : 0) }}
        />
      ))}
    </span>
  );
}

/**
 * One tube lying on its side, true to length against its neighbours: the filled part is µl, a tick every dose, the hatched right end
 * its age, an overdrawn part stands out past the end.
 */
export function TubeDrawing({ left, full, dose, layers, since, condemned }: Drawn) {
  const length = Math.max(full, left, 0.1);
  const ticks = Array.from(
    { length: Math.min(MOST_TICKS, dosesLeft(left, dose)) },
    (_, i) => ((i + 1) * dose) / length,
  );
  const over = left < 0 ? Math.min(-left / length, 0.4) : 0;
  const days = since === null ? null : ageDays(since);
  return (
    <span className={condemned ? 'tube-drawing condemned' : 'tube-drawing'} aria-hidden="true">
      <Layers left={left} full={length} layers={layers} />
      {ticks.map((at) => (
        <span key={at} className="tick" style={{ left: percent(at) }} />
      ))}
      {over > 0 ? <span className="over" style={{ width: percent(over) }} /> : null}
      <span
        className={days === null ? 'age unknown' : 'age'}
        style={{ '--gap': `${hatchGap(days ?? 0).toFixed(1)}px` } as CSSProperties}
      />
    </span>
  );
}

/** What the drawing shows, in words, for whoever cannot see it. */
export function drawnWords({ left, dose, condemned }: Pick<Drawn, 'left' | 'dose' | 'condemned'>): string {
  if (condemned) return say('semen.condemned');
  if (left < -1e-9) return say('semen.overdrawn', { by: (-left).toFixed(1) });
  return say('semen.left-doses', { left: left.toFixed(1), doses: dosesLeft(left, dose) });
}
