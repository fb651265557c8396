import { type TouchEvent, useRef } from 'react';

/** Farther than this, pixels, and mostly sideways, is a swipe. */
const FAR = 60;

/** Swiping left goes on, swiping right goes back; each has its button too. */
export function useSwipe({ onLeft, onRight }: { onLeft: () => void; onRight: () => void }) {
  const from = useRef<{ x: number; y: number } | null>(null);
  return {
    onTouchStart: (event: TouchEvent) => {
      const touch = event.touches[0];
      from.current = touch === undefined ? null : { x: touch.clientX, y: touch.clientY };
    },
    onTouchEnd: (event: TouchEvent) => {
      const touch = event.changedTouches[0];
      const start = from.current;
      from.current = null;
      if (touch === undefined || start === null) return;
      const [across, down] = [touch.clientX - start.x, touch.clientY - start.y];
      if (Math.abs(across) < FAR || Math.abs(down) * 2 > Math.abs(across)) return;
      if (across < 0) onLeft();
      else onRight();
    },
  };
}
