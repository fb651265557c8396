import { type RefObject, useLayoutEffect, useState } from 'react';

/** The width of an element in CSS pixels, as it is and as it changes; `initial` until it is known. */
export function useWidth(box: RefObject<HTMLElement | null>, initial: number): number {
  const [width, setWidth] = useState(initial);
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => setWidth(Math.round(entry?.contentRect.width ?? initial)));
    observer.observe(element);
    setWidth(Math.round(element.getBoundingClientRect().width));
    return () => observer.disconnect();
  }, [box, initial]);
  return width;
}
