import { type PointerEvent, useRef } from 'react';

type DragProps = {
  /** Where it is taken hold of, in pixels of the drawing. */
  x: number;
  y: number;
  width: number;
  height: number;
  /** Pixels a day is wide. */
  perDay: number;
  /** Days it is moved by so far. */
  days: number;
  /** How many days it is moved by, while it is dragged. */
  onDrag: (days: number) => void;
  /** What it says when pointed at. */
  title: string;
  /** Which one of the drawing it is. */
  name: string;
};

/** A place in a drawing of days that is dragged sideways, a day at a time. What it moves can be moved by a button and a key as well. */
export function DragHandle({ x, y, width, height, perDay, days, onDrag, title, name }: DragProps) {
  const start = useRef<{ x: number; perDay: number; days: number } | null>(null);
  const drag = (event: PointerEvent<SVGRectElement>) => {
    const from = start.current;
    if (from === null) return;
    const to = from.days + Math.round((event.clientX - from.x) / from.perDay);
    if (to !== days) onDrag(to);
  };
  return (
    <rect
      x={x}
      y={y}
      width={width}
      height={height}
      className="drag-handle"
      data-handle={name}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        start.current = { x: event.clientX, perDay, days };
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={drag}
      onPointerUp={() => {
        start.current = null;
      }}
      onPointerCancel={() => {
        // Broken off, as when a finger scrolls the page instead: it stands where it stood before.
        if (start.current !== null) onDrag(start.current.days);
        start.current = null;
      }}
    >
      <title>{title}</title>
    </rect>
  );
}
