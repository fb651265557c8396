import { describe, expect, it } from 'vitest';
import { addDays, day } from '#units/calendar-day.ts';
import { countBack } from '../count-back.ts';
import { shippedProfiles } from '../profiles.ts';
import { combTasks, graftTasks } from '../raising-tasks.ts';
import { standardText } from '../standard-text.ts';
import { asRaised, type RaisedSoFar } from './as-raised.ts';

const on = day('2027-06-12');
const tasks = countBack({ inseminate: on, queens: 12, profile: standardText });
const spans = (raised: RaisedSoFar) =>
  new Map(asRaised(tasks, raised, standardText).map(({ key, from, to }) => [key as string, { from, to }]));
const none: RaisedSoFar = { grafted: [], combs: [] };

describe('tasks of one graft and one comb', () => {
  it('are those of the countback they belong to, by every profile', () => {
    for (const profile of shippedProfiles) {
      const all = countBack({ inseminate: on, queens: 12, profile });
      const dayOf = (key: string) => all.find((task) => task.key === key)?.day ?? on;
      for (const task of [...graftTasks(dayOf('graft'), profile), ...combTasks(dayOf('drone-comb-in'), profile)])
        expect({ key: task.key, from: task.from, to: task.to }, profile.name).toEqual(
          (({ key, from, to }) => ({ key, from, to }))(all.find(({ key }) => key === task.key) ?? task),
        );
    }
  });
});

describe('tasks as things were raised', () => {
  it('stay where the plan has them while nothing was raised', () => {
    expect(asRaised(tasks, none, standardText)).toEqual(tasks);
  });

  it('follow a graft a day late: nucs, cells and virgins a day later, and nothing else', () => {
    const late = spans({ ...none, grafted: [day('2027-05-24')] });
    expect(late.get('cells-out')).toEqual({ from: '2027-06-03', to: '2027-06-03' });
    expect(late.get('virgins-emerge')).toEqual({ from: '2027-06-05', to: '2027-06-05' });
    const moved = tasks.filter(({ key, from }) => late.get(key)?.from !== from).map(({ key }) => key);
    expect(moved).toEqual(['nucs-ready', 'cells-out', 'virgins-emerge']);
  });

  it('follow a comb laid two days late: drones and the move to the holder two days later', () => {
    const planned = tasks.find(({ key }) => key === 'drone-eggs');
    const laid = { from: addDays(planned?.from ?? on, 2), to: addDays(planned?.to ?? on, 2) };
    const late = spans({ ...none, combs: [{ in: null, laid }] });
    expect(late.get('drones-emerge')).toEqual({ from: '2027-05-24', to: '2027-05-31' });
    expect(late.get('drone-brood-out')).toEqual({ from: '2027-05-23', to: '2027-05-23' });
  });

  it('follow a comb hung in late, before its eggs are seen', () => {
    const late = spans({ ...none, combs: [{ in: day('2027-04-29'), laid: null }] });
    expect(late.get('drone-eggs')?.from).toBe('2027-05-01');
    expect(late.get('drone-egg-check')).toEqual({ from: '2027-05-03', to: '2027-05-03' });
  });

  it('span all combs of several mothers; the first drone out sets the day of the holder', () => {
    const span = (from: string, to: string) => ({ in: null, laid: { from: day(from), to: day(to) } });
    const both = spans({ ...none, combs: [span('2027-04-28', '2027-05-02'), span('2027-05-01', '2027-05-06')] });
    expect(both.get('drones-emerge')).toEqual({ from: '2027-05-22', to: '2027-05-30' });
    expect(both.get('drone-brood-out')).toEqual({ from: '2027-05-21', to: '2027-05-21' });
  });
});
