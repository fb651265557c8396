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
import { gatherRaised, raisedBar, raisedComb, raisedReads } from './gather-raised.ts';
import { type Lanes, lanesOf } from './lanes.ts';
import { serving } from './serving.ts';

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
  reads: [...crossReads, ...taskReads, ...raisedReads],
  async gather({ today }, facts) {
    const profiles = await gatherProfiles(facts);
    const raised = await gatherRaised(facts);
    const dams = groupBy(await facts.find('cross_dam'), ({ cross }) => cross);
    const sources = groupBy(await facts.find('cross_drone_source'), ({ cross }) => cross);
    const rows = (await facts.find('cross')).filter(isOnWall(today));
    const crosses = rows.flatMap((cross): CrossOnWall[] => {
      const wish = wishOf(cross, profiles);
      if (wish === null || wish.queens < 1) return [];
      const mine = (dams.get(cross.id) ?? []).map(({ queen }) => queen);
      const theirs = (sources.get(cross.id) ?? []).flatMap((row) => row.queen ?? row.sister_group ?? row.line ?? []);
      const of = { cross: cross.id, dams: new Set<string>(mine), mothers: new Set<string>(theirs) };
      const { combs, bars } = serving(wish, raised, of);
      const raising = {
        combs: combs.flatMap(raisedComb),
        bars: bars.map(raisedBar),
        droneMothers: theirs.map((mother) => ({ id: mother, name: raised.called(mother) })),
        dams: mine.map(raised.called).join(', '),
      };
      const drones = theirs.map(raised.called).join(', ');
      const lanes = lanesOf(wish, raising);
      return [
        {
          id: cross.id,
          code: cross.code,
          day: wish.inseminate,
          queens: wish.queens,
          dams: raising.dams,
          drones,
          lanes,
        },
      ];
    });
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
