import { addDays, yearOf } from '#units/calendar-day.ts';
import { planCross } from '../crosses/plan-cross.ts';
import { countBackCross } from '../rearing/count-back.ts';
import { doTask } from '../rearing/do-task.ts';
import { recordNote } from '../stock/record-plain.ts';
import { checkLaying } from '../yard/check-laying.ts';
import type { Doing } from './doing.ts';
import { fillTubes, type LastSeason, raiseBar, raiseDrones } from './last-season.ts';
import type { OlderQueens } from './older-queens.ts';
import type { Station } from './station.ts';

/** The season that is under way: one cross two days before its bench day, one whose drone comb has just been hung in. */
export async function plantThisSeason(
  doing: Doing,
  station: Station,
  older: OlderQueens,
  last: LastSeason,
): Promise<void> {
  const on = doing.day(2);
  const later = doing.day(38);
  const year = String(yearOf(on)).slice(2);
  const [dam, other] = last.laying;
  // A drone mother whose drones no dam of this season was made with a year ago: brood inbreeding 0.04, not 0.28.
  const [mother, second] = [older.sallow[4], older.alder[2]];
  if (!dam || !other || !mother || !second) throw new Error('the sample does not fit');
  const near = await doing.make(
    planCross,
    {
      cross: {
        code: `A${year}`,
        purpose: 'The best of last year with early drones',
        queens_wanted: 12,
        dose_ul: 8,
        drones: 10,
        inseminate_on: on,
      },
      dams: [dam.queen],
      drone_sources: [{ queen: mother }],
      stand_ins: [{ queen: other.queen, side: 'queen' }],
    },
    addDays(on, -75),
  );
  const comb = await raiseDrones(doing, mother, { code: `D${year}-1`, on });
  await fillTubes(doing, undefined, doing.day(-1), { mother, comb, codes: ['C-11', 'C-12'] });
  await raiseBar(doing, station, {
    code: `bar ${year}-1`,
    dam: dam.queen,
    line: station.lines.alder,
    cross: near,
    emerged: addDays(on, -8),
    virgins: 16,
    firstDisc: 1,
  });
  await seeOlderQueens(doing, older);
  const far = await doing.make(
    planCross,
    {
      cross: {
        code: `B${year}`,
        purpose: 'Breadth for next year',
        queens_wanted: 8,
        dose_ul: 8,
        drones: 10,
        inseminate_on: later,
      },
      dams: [other.queen],
      drone_sources: [
        { queen: second, share: 0.5 },
        { queen: mother, share: 0.5 },
      ],
    },
    addDays(later, -75),
  );
  await doing.do(countBackCross, { cross: far }, addDays(later, -74));
  const tasks = await doing.book.find('task', { done_on: null });
  const done = tasks.filter(
    ({ span_to, key, cross }) => span_to < doing.day(0) && !(cross === far && key === 'drone-egg-check'),
  );
  for (const { id, day } of done) await doing.do(doTask, { tasks: [id] }, day);
  await doing.do(
    recordNote,
    { about_kind: 'queen', about: dam.queen, words: 'Quietest colony of the test yard; every comb full to the edge.' },
    doing.day(-70),
  );
}

/** The spring check saw the older queens that are still there. */
async function seeOlderQueens(doing: Doing, older: OlderQueens): Promise<void> {
  const ended = new Set((await doing.book.find('fate')).map(({ queen }) => queen));
  for (const queen of [...older.alder, ...older.sallow].filter((id) => !ended.has(id)))
    await doing.do(checkLaying, { queen, sights: ['worker-caps'], queen_seen: 'seen' }, doing.day(-62), '14:00');
}
