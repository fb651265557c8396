import type { LimitName } from '#domain/rearing/season/clash.ts';
import type { SeasonLimits } from '#domain/rearing/season/season-wish.ts';
import type { OfferedRepair } from '#questions/rearing/season/day-repairs.ts';
import { dayWords } from '#words/day-words.ts';
import { language, say, sayAny } from '#words/say.ts';
import { today } from '../../link/this-device.ts';

/** A chance as times out of twenty; never all or none of them while it is not sure. */
export function timesOfTwenty(chance: number): number {
  const times = Math.round(chance * 20);
  if (times === 20 && chance < 0.995) return 19;
  return times === 0 && chance > 0.005 ? 1 : times;
}

/** A limit of the season as it is named when it stands in the way. */
export function limitWords(name: LimitName, limits: SeasonLimits): string {
  const number = name in limits ? limits[name as keyof SeasonLimits] : null;
  return sayAny(`limit.${name}`, { number: typeof number === 'number' ? number : '' });
}

/** Names one after the other, as a person says them. */
export const listWords = (names: readonly string[]): string =>
  new Intl.ListFormat(language(), { type: 'conjunction' }).format(names);

/** What a repair would do. */
export function repairWords(repair: OfferedRepair, names: Readonly<Record<string, string>>): string {
  const called = (id: string) => names[id] ?? id;
  if (repair.kind === 'graft-more')
    return say('repair.graft-more', {
      larvae: repair.larvae,
      dam: called(repair.dam),
      on: dayWords(repair.day, today()),
      queenAge: repair.queenAge,
    });
  if (repair.kind === 'other-drones')
    return say('repair.other-drones', { mother: called(repair.mother), instead: called(repair.instead) });
  if (repair.kind === 'move-day') return say('repair.move-day', { to: dayWords(repair.to, today()) });
  return say('repair.fewer-queens', { queens: repair.queens, wanted: repair.wanted });
}
