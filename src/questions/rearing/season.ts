import { z } from 'zod';
import { usableDays } from '#domain/living/usable-window.ts';
import type { BiologyProfile } from '#domain/rearing/profile.ts';
import { gatherProfiles, profileFor } from '#gather/profiles.ts';
import { spanOf } from '#gather/raised.ts';
import { tasksOfCrosses } from '#gather/tasks-of-crosses.ts';
import { dayShape } from '#records/field.ts';
import { addDays, type Day } from '#units/calendar-day.ts';
import { type CrossLine, nextTask, stageOf } from '../crosses/crosses.ts';
import { type Question, question } from '../mechanism/question.ts';
import { taskReads } from '../today/gather-tasks.ts';
import { type BarLine, type CombLine, gatherRaised, raisedReads } from './gather-raised.ts';
import { gatherVirgins, type Virgin, virginReads } from './gather-virgins.ts';
import type { Days } from './lanes.ts';

const input = z.strictObject({ today: dayShape });

/** A drone comb in the season: when its drones are of the preferred age, and until when they can still be used. */
export type CombInSeason = CombLine & { ripe: Days | null; usableTo: Day | null; crossCode: string | null };
/** A bar in the season: when its queens are of the preferred age, and until when they can still be used. */
export type BarInSeason = BarLine & { ripe: Days; usableTo: Day; crossCode: string | null };

/** A cross that is being raised for. */
export type CrossInSeason = Pick<CrossLine, 'id' | 'code' | 'day' | 'wanted' | 'stage' | 'next'>;

/** Everything Rearing begins with. */
export type Season = {
  crosses: CrossInSeason[];
  combs: CombInSeason[];
  bars: BarInSeason[];
  virgins: { waiting: number; withoutCo2: number };
  /** "If I graft today": when the queens would be of the preferred age, and which combs are ripe in those days. */
  graftToday: { ofAge: Days; combs: { id: string; code: string; who: string }[] };
};

type Gathered = {
  combs: CombLine[];
  bars: BarLine[];
  crosses: CrossInSeason[];
  virgins: Virgin[];
  profile: BiologyProfile;
};

/** The profile the season is shown by is the usual one; a cross may have another. */
const NO_CROSS = { profile: null, larva_age_hours: null, brood_celsius: null };

const codesOf = (crosses: readonly CrossInSeason[]) => new Map(crosses.map(({ id, code }) => [id, code]));

type Shown = { codes: ReadonlyMap<string, string>; profile: BiologyProfile };

function combInSeason(comb: CombLine, { codes, profile }: Shown): CombInSeason {
  const { preferred, hard } = profile.drones;
  const emerged = comb.emerged === null ? null : spanOf(comb.emerged);
  return {
    ...comb,
    ripe: emerged === null ? null : usableDays(emerged, preferred).some,
    usableTo: emerged === null ? null : usableDays(emerged, hard).some.to,
    crossCode: comb.cross === null ? null : (codes.get(comb.cross) ?? null),
  };
}

function barInSeason(bar: BarLine, { codes, profile }: Shown): BarInSeason {
  const emerged = spanOf(bar.emerged);
  return {
    ...bar,
    ripe: usableDays(emerged, profile.queens.preferred).some,
    usableTo: usableDays(emerged, profile.queens.hard).some.to,
    crossCode: bar.cross === null ? null : (codes.get(bar.cross) ?? null),
  };
}

const meet = (a: Days, b: Days) => a.from <= b.to && b.from <= a.to;

/** A season on the page keeps what is of use, and what was until this many days ago. */
const KEPT_AFTER = 14;

/** What is being raised now: crosses, drone combs, bars and virgins, and what a graft today would meet. */
export const season: Question<z.infer<typeof input>, Gathered, Season> = question({
  name: 'season',
  what: 'What is being raised: crosses, drone combs and bars with the days they are of age, virgins, and what a graft today would meet.',
  input,
  reads: [...taskReads, ...raisedReads, ...virginReads],
  async gather({ today }, facts) {
    const tasks = await tasksOfCrosses(facts);
    const done = new Set((await facts.find('insemination', { done: 1 })).map(({ cross }) => cross));
    const crosses = (await facts.find('cross')).map((cross): CrossInSeason => {
      const own = tasks.get(cross.id) ?? [];
      return {
        id: cross.id,
        code: cross.code,
        day: cross.inseminate_on,
        wanted: cross.queens_wanted,
        stage: stageOf(cross, own, done.has(cross.id) ? 1 : 0, today),
        next: nextTask(own, today),
      };
    });
    const { combs, bars } = await gatherRaised(facts);
    const profile = profileFor(NO_CROSS, await gatherProfiles(facts));
    return { combs, bars, crosses, virgins: await gatherVirgins(facts, today), profile };
  },
  answer({ combs, bars, crosses, virgins, profile }, { today }): Season {
    const shown = { codes: codesOf(crosses), profile };
    const out = addDays(today, profile.timings.graftToEmergence.value);
    const ofAge = usableDays({ earliest: out, latest: out }, profile.queens.preferred).some;
    const inSeason = combs
      .map((comb) => combInSeason(comb, shown))
      .filter(({ usableTo }) => usableTo === null || addDays(usableTo, KEPT_AFTER) >= today);
    const waiting = virgins.filter(({ living }) => living !== 'gone');
    return {
      crosses: crosses
        .filter(({ stage }) => stage !== 'given-up' && stage !== 'inseminated')
        .sort((a, b) => ((a.day ?? '9999') < (b.day ?? '9999') ? -1 : 1)),
      combs: inSeason,
      bars: bars.map((bar) => barInSeason(bar, shown)).filter(({ usableTo }) => addDays(usableTo, KEPT_AFTER) >= today),
      virgins: { waiting: waiting.length, withoutCo2: waiting.filter(({ co2 }) => co2 === 0).length },
      graftToday: {
        ofAge,
        combs: inSeason
          .filter(({ ripe }) => ripe !== null && meet(ripe, ofAge))
          .map(({ id, code, who }) => ({ id, code, who })),
      },
    };
  },
});
