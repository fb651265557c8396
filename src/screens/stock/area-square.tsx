/** A value from 0 to 1 as a filled square in a drawn one: the area is the value. Its number must stand beside it. */
export function AreaSquare({ value, most = 1 }: { value: number; most?: number }) {
  const side = 20 * Math.sqrt(Math.min(1, Math.max(0, value / most)));
  const step = value <= 0 ? 0 : Math.min(6, 1 + Math.floor((value / most) * 5.999));
  return (
    <svg className="area-square" viewBox="0 0 22 22" width="22" height="22" aria-hidden="true">
      <rect x="1" y="1" width="20" height="20" className="whole" />
      <rect x="1" y={21 - side} width={side} height={side} className={`ramp-${step}`} />
    </svg>
  );
}
