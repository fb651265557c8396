import { z } from 'zod';
import { crossReads, wishOf } from '#gather/cross-plan.ts';
import { gatherProfiles } from '#gather/profiles.ts';
import { dayShape } from '#records/field.ts';
import type { Row } from '#records/kinds.ts';
import { addDays, type Day, earlierOf, laterOf } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { type Question, question } from '../mechanism/question.ts';
import { gatherTaskLines, taskReads } from '../today/gather-tasks.ts';
import type { TaskLine } from '../today/task-line.ts';
import { type Lanes, lanesOf } from './lanes.ts';
import { raisingReader, raisingReads } from './raising-of-cross.ts';

const input = z.strictObject({ today: dayShape });

/** One cross on the wall: its day, its sides, its lanes. */
export type CrossOnWall = {
  id: string;
  code: string;
  day: Day;
  queens: number;
  dams: string;
  drones: string;
  lanes: Lanes;
};

/** The season on one sheet: every cross with a day that is not long past, and every task of them in the order of their days. */
export type SeasonWall = { from: Day; to: Day; today: Day; crosses: CrossOnWall[]; tasks: TaskLine[] };

/** Days a cross stays on the wall after its insemination: until its brood was judged. */
const KEPT_AFTER = 21;

const isOnWall = (today: Day) => (cross: Row<'cross'>) =>
  cross.cancelled !== 1 && cross.inseminate_on !== null && addDays(cross.inseminate_on, KEPT_AFTER) >= today;

/** Every cross of the season in lanes over one line of time, with all tasks to come. */
export const seasonWall: Question<z.infer<typeof input>, SeasonWall, SeasonWall> = question({
  name: 'season-wall',
  what: 'The season on one sheet: every cross in lanes over one line of time, and all tasks in the order of their days.',
  input,
  reads: [...crossReads, ...taskReads, ...raisingReads],
  async gather({ today }, facts) {
    const profiles = await gatherProfiles(facts);
    const raisingOf = raisingReader(facts, today);
    const dams = groupBy(await facts.find('cross_dam'), ({ cross }) => cross);
    const sources = groupBy(await facts.find('cross_drone_source'), ({ cross }) => cross);
    const crosses: CrossOnWall[] = [];
    for (const row of (await facts.find('cross')).filter(isOnWall(today))) {
      const wish = wishOf(row, profiles);
      if (wish === null || wish.queens < 1) continue;
      const { raising } = await raisingOf({
        cross: row.id,
        wish,
        profile: wish.profile,
        dams: (dams.get(row.id) ?? []).map(({ queen }) => queen),
        sources: (sources.get(row.id) ?? []).flatMap((one) => one.queen ?? one.sister_group ?? one.line ?? []),
      });
      crosses.push({
        id: row.id,
        code: row.code,
        day: wish.inseminate,
        queens: wish.queens,
        dams: raising.dams,
        drones: raising.droneMothers.map(({ name }) => name).join(', '),
        lanes: lanesOf(wish, raising),
      });
    }
    const shown = new Set(crosses.map(({ id }) => id));
    const lines = await gatherTaskLines(facts, { today });
    return {
      from: crosses.map(({ lanes }) => lanes.from).reduce(earlierOf, today),
      to: crosses.map(({ lanes }) => lanes.to).reduce(laterOf, addDays(today, 28)),
      today,
      crosses: crosses.sort((a, b) => (a.day < b.day ? -1 : Number(a.day > b.day))),
      tasks: lines.filter(
        ({ cross, state, to }) =>
          state !== 'cancelled' && (state !== 'done' || to >= today) && (cross === null || shown.has(cross.id)),
      ),
    };
  },
  answer: (wall) => wall,
});
