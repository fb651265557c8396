import { dosesLeft } from '#domain/semen/next-dose.ts';

type Bar = { left: number; full: number; dose: number };

/** Ticks at whole doses, at most so many. */
const MOST_TICKS = 40;

/** A capillary lying on its side: what is in it drawn to length, a tick at every dose, an overdrawn part past its end. */
export function TubeBar({ left, full, dose }: Bar) {
  const length = Math.max(full, left, dose, 1);
  const over = left < 0 ? Math.min(-left, length / 4) : 0;
  const at = (microlitres: number) => 2 + (microlitres / length) * 196;
  const ticks = Array.from({ length: Math.min(MOST_TICKS, dosesLeft(left, dose)) }, (_, i) => at((i + 1) * dose));
  return (
    <svg className="tube-bar" viewBox="0 0 240 24" preserveAspectRatio="none" aria-hidden="true">
      <rect x="2" y="3" width="196" height="18" className="glass" />
      <rect x="2" y="3" width={Math.max(0, at(Math.max(0, left)) - 2)} height="18" className="semen" />
      {ticks.map((x) => (
        <line key={x} x1={x} x2={x} y1="3" y2="21" className="tick" />
      ))}
      {over > 0 ? <rect x="200" y="3" width={(over / length) * 196} height="18" className="over" /> : null}
    </svg>
  );
}
