import type { Progress } from '#ports/compute.ts';

/** Passes progress on at most ten times a second, and always the last word. */
export function atMostTenASecond(tell: Progress, now: () => number): Progress {
  let last = Number.NEGATIVE_INFINITY;
  return (done, whole) => {
    if (done < whole && now() - last < 100) return;
    last = now();
    tell(done, whole);
  };
}
