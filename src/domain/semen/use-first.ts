import type { TubeStory } from './ledger-story.ts';

/** By what tubes are ordered: the oldest semen, diluted before undiluted (it keeps worse), or the least left. */
export type UseFirstRule = 'oldest' | 'diluted-first' | 'least-left';

/** Nothing left: such tubes drop to the end of the rack. */
const isEmpty = (tube: TubeStory): boolean => tube.left <= 1e-9;
const age = (tube: TubeStory): number => tube.since?.epoch ?? Number.POSITIVE_INFINITY;

const measures: Record<UseFirstRule, (tube: TubeStory) => number> = {
  oldest: () => 0,
  'diluted-first': (tube) => Number(!tube.diluted),
  'least-left': (tube) => tube.left,
};

/** Ages compare also where both are unknown. */
const earlier = (a: number, b: number): number => (a === b ? 0 : a - b);

/**
 * Tubes in the order they should be used: by the rule, then the oldest semen first, then by id; frozen ones after those that
 * age, empty and overdrawn ones last. The list given is left as it is.
 */
export function useFirst(tubes: readonly TubeStory[], rule: UseFirstRule = 'oldest'): TubeStory[] {
  const measure = measures[rule];
  return [...tubes].sort(
    (a, b) =>
      Number(isEmpty(a)) - Number(isEmpty(b)) ||
      Number(a.frozen) - Number(b.frozen) ||
      measure(a) - measure(b) ||
      earlier(age(a), age(b)) ||
      (a.tube < b.tube ? -1 : 1),
  );
}
