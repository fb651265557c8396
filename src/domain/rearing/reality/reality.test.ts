import { describe, expect, it } from 'vitest';
import { addDays, day } from '#units/calendar-day.ts';
import type { DroneLot } from '../chances/drone-lot.ts';
import { countBack } from '../count-back.ts';
import { standardText } from '../standard-text.ts';
import { afterwards, type DayPlan, readinessOn } from './day-plan.ts';
import { movedTasks } from './moved-tasks.ts';
import { cheapestRepair, isReady, type RepairMeans, repairsFor } from './repair.ts';
import { whatInstead } from './what-instead.ts';

const profile = standardText;
const on = day('2027-06-19');
const comb = (laidFrom: number, laidTo: number, count = 8600): DroneLot => ({
  counted: 'cells',
  count,
  laidFrom: addDays(on, -laidFrom),
  laidTo: addDays(on, -laidTo),
});
const planned: DayPlan = {
  on,
  queens: [
    {
      dam: 'A',
      wanted: 12,
      grafts: [{ id: 'bar 1', grafted: addDays(on, -20), count: { left: 26, after: 'grafted' } }],
    },
  ],
  drones: [{ mother: 'M', microlitres: 96, lots: [comb(45, 38)] }],
};
const means = (more: Partial<RepairMeans> = {}): RepairMeans => ({ today: addDays(on, -19), profile, ...more });
const chanceOf = (plan: DayPlan, mother: string) =>
  readinessOn(plan, profile).links.find((link) => link.mother === mother)?.chance ?? 0;

describe('a day as it was planned', () => {
  it('is as sure as it was planned to be, and wants no repair', () => {
    expect(isReady(readinessOn(planned, profile))).toBe(true);
    expect(repairsFor(planned, means())).toEqual([]);
    expect(cheapestRepair(planned, means())).toEqual([]);
  });
});

describe('what happened', () => {
  it('14 of 26 accepted leaves the day in doubt', () => {
    const after = afterwards(planned, { what: 'counted', graft: 'bar 1', after: 'accepted', left: 14 });
    expect(chanceOf(after, 'A')).toBeLessThan(0.5);
    expect(chanceOf(after, 'M')).toBe(chanceOf(planned, 'M'));
  });

  it('a comb laid two days late has younger drones on the day', () => {
    const late = afterwards(planned, { what: 'drones', mother: 'M', lots: [comb(43, 36)] });
    const tooLate = afterwards(planned, { what: 'drones', mother: 'M', lots: [comb(33, 26)] });
    expect(chanceOf(late, 'M')).toBeGreaterThan(0.9);
    expect(chanceOf(tooLate, 'M')).toBeLessThan(0.01);
  });

  it('queens that emerged early are older, and past the window when much too early', () => {
    const early = afterwards(planned, { what: 'emerged', graft: 'bar 1', on: addDays(on, -9), left: 16 });
    expect(chanceOf(early, 'A')).toBeGreaterThan(0.7);
    const muchTooEarly = afterwards(planned, { what: 'emerged', graft: 'bar 1', on: addDays(on, -15), left: 16 });
    expect(chanceOf(muchTooEarly, 'A')).toBe(0);
  });

  it('a graft moved by a day counts again from its larvae', () => {
    const late = afterwards(planned, { what: 'grafted-late', graft: 'bar 1', on: addDays(on, -19), larvae: 30 });
    expect(late.queens[0]?.grafts[0]).toMatchObject({
      grafted: addDays(on, -19),
      count: { left: 30, after: 'grafted' },
    });
    expect(afterwards(planned, { what: 'counted', graft: 'bar 9', after: 'accepted', left: 1 })).toEqual(planned);
  });
});

describe('the cheapest repair', () => {
  const half = afterwards(planned, { what: 'counted', graft: 'bar 1', after: 'accepted', left: 10 });

  it('after half a graft is lost: so many more larvae on a day their queens are still of age', () => {
    const [repair] = repairsFor(half, means());
    expect(repair).toMatchObject({ kind: 'graft-more', dam: 'A' });
    if (repair?.kind !== 'graft-more') return;
    expect(repair.on >= addDays(on, -17)).toBe(true);
    expect(repair.queenAge).toBe(5);
    expect(repair.larvae).toBeGreaterThan(4);
    expect(repair.larvae).toBeLessThan(26);
    const [link] = repair.readiness.links;
    expect(link?.chance).toBeGreaterThanOrEqual(0.9);
    const fewer = {
      ...repair.plan,
      queens: repair.plan.queens.map((need) => ({
        ...need,
        grafts: need.grafts.map((graft) =>
          graft.id.startsWith('more')
            ? { ...graft, count: { left: repair.larvae - 1, after: 'grafted' as const } }
            : graft,
        ),
      })),
    };
    expect(chanceOf(fewer, 'A')).toBeLessThan(0.9);
  });

  it('with a starter still standing, a day later will do', () => {
    const today = addDays(on, -17);
    const kinds = (starterReady: boolean) => repairsFor(half, means({ today, starterReady })).map(({ kind }) => kind);
    expect(kinds(true)[0]).toBe('graft-more');
    expect(kinds(false)).not.toContain('graft-more');
  });

  it('too late to graft: fewer queens, or a later day when a graft is still on its way', () => {
    const late = repairsFor(half, means({ today: addDays(on, -10) }));
    expect(late.map(({ kind }) => kind)).toContain('fewer-queens');
    expect(late.map(({ kind }) => kind)).not.toContain('graft-more');
    const fewer = late.find(({ kind }) => kind === 'fewer-queens');
    expect(fewer).toMatchObject({ dam: 'A' });
    expect(fewer?.kind === 'fewer-queens' && fewer.queens + fewer.lost).toBe(12);
  });

  it('a comb that was laid too late: another mother, or the day moved', () => {
    const laidLate = afterwards(planned, { what: 'drones', mother: 'M', lots: [comb(36, 29)] });
    const other = { mother: 'N', lots: [comb(45, 38)] };
    const repairs = repairsFor(laidLate, means({ today: addDays(on, -12), otherDrones: [other] }));
    expect(repairs.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['other-drones', 'move-day']));
    const moved = repairs.filter(({ kind }) => kind === 'move-day');
    expect(moved.length).toBeGreaterThan(0);
    for (const repair of moved) expect(repair.readiness.chance).toBeGreaterThan(readinessOn(laidLate, profile).chance);
    expect(repairs[0]?.cost).toBe(
      Math.min(...repairs.filter(({ readiness }) => isReady(readiness)).map(({ cost }) => cost)),
    );
  });

  it('never by a day that would suffice in fewer than one season of twenty', () => {
    // Grafted ten days late: the first queens of age five days after the day, and some time has passed for the drones.
    const late = afterwards(half, { what: 'grafted-late', graft: 'bar 1', on: addDays(on, -10), larvae: 26 });
    const moves = repairsFor(late, means({ today: addDays(on, -9) })).filter(({ kind }) => kind === 'move-day');
    const days = moves.map((repair) => (repair.kind === 'move-day' ? repair.days : 0));
    expect(days.length).toBeGreaterThan(0);
    expect(Math.min(...days)).toBeGreaterThan(5);
    for (const { readiness } of moves) expect(readiness.chance).toBeGreaterThanOrEqual(0.05);
  });

  it('never on a day nobody can work', () => {
    const laidLate = afterwards(planned, { what: 'drones', mother: 'M', lots: [comb(36, 29)] });
    const blockedDays = [1, 2, 3, 4, 5, 6, 7].map((days) => addDays(on, days));
    expect(repairsFor(laidLate, means({ blockedDays })).map(({ kind }) => kind)).not.toContain('move-day');
  });

  it('takes steps one after the other until both sexes are sure', () => {
    const both = afterwards(half, { what: 'drones', mother: 'M', lots: [comb(45, 38, 1500)] });
    const steps = cheapestRepair(both, means({ otherDrones: [{ mother: 'N', lots: [comb(45, 38)] }] }));
    expect(steps.length).toBeGreaterThanOrEqual(2);
    expect(isReady(steps.at(-1)?.readiness ?? readinessOn(both, profile))).toBe(true);
  });
});

describe('ghosts of an old plan', () => {
  const tasks = (date: string) => countBack({ inseminate: day(date), queens: 12, profile });

  it('name what moved and by how many days, and nothing that stayed', () => {
    expect(movedTasks(tasks('2027-06-12'), tasks('2027-06-12'))).toEqual([]);
    const moved = movedTasks(tasks('2027-06-12'), tasks('2027-06-10'));
    expect(moved.every(({ days }) => days === -2)).toBe(true);
    expect(moved).toHaveLength(tasks('2027-06-12').length);
  });

  it('hold new and dropped tasks apart', () => {
    const before = [{ key: 'graft', of: 'a', from: on, to: on }];
    const after = [{ key: 'graft', of: 'b', from: on, to: on }];
    expect(movedTasks(before, after)).toEqual([
      { key: 'graft', of: 'b', was: null, now: { from: on, to: on }, days: 0 },
      { key: 'graft', of: 'a', was: { from: on, to: on }, now: null, days: 0 },
    ]);
  });
});

describe('an insemination day too near', () => {
  it('says when drone eggs were due, what is the earliest day, and whose drones there are', () => {
    const instead = whatInstead({
      wish: { inseminate: on, queens: 12, profile, droneAge: { from: 14, to: 21 } },
      today: addDays(on, -26),
      microlitres: 96,
      lots: [
        { mother: 'M', lots: [comb(45, 38)] },
        {
          mother: 'N',
          lots: [
            {
              counted: 'alive',
              count: 900,
              on: addDays(on, -26),
              emergedFrom: addDays(on, -28),
              emergedTo: addDays(on, -26),
            },
          ],
        },
        { mother: 'O', lots: [] },
      ],
    });
    expect(instead).toMatchObject({ eggsDue: addDays(on, -38), daysLate: 12, earliest: addDays(on, 14) });
    expect(instead.earliestQueens).toBe(addDays(on, -26 + 2 + 12 + 5));
    expect(instead.mothers.map(({ mother }) => mother)).toEqual(['M', 'N']);
    expect(instead.mothers[1]?.chance).toBeLessThan(0.5);
  });
});
