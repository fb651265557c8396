/** How a difference reads: it could easily be luck, it may be luck, or luck alone hardly does it. */
export type Luck = 'easily' | 'perhaps' | 'hardly';

/**
 * How easily luck alone would part a group from all others as much. Whoever looks at ten groups finds one apart by luck, so the
 * chance is multiplied by the number of groups compared (Bonferroni). 0.1 or more: easily; below 0.01: hardly.
 * @param chanceAlone two-sided chance of one comparison, 0-1
 * @param compared groups looked at, 1 or more
 */
export function luckOf(chanceAlone: number, compared: number): Luck {
  const chance = Math.min(1, chanceAlone * Math.max(1, compared));
  if (chance >= 0.1) return 'easily';
  return chance < 0.01 ? 'hardly' : 'perhaps';
}
