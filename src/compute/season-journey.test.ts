import { describe, expect, it } from 'vitest';
import { eventsOf, updateEvents } from '#domain/rearing/calendar-event.ts';
import { afterwards, type DayPlan, readinessOn } from '#domain/rearing/reality/day-plan.ts';
import { movedTasks } from '#domain/rearing/reality/moved-tasks.ts';
import { cheapestRepair, isReady } from '#domain/rearing/reality/repair.ts';
import { season } from '#domain/rearing/season/season.fixture.ts';
import { dayPlansOf, seasonChances } from '#domain/rearing/season/season-chances.ts';
import { seasonFrame } from '#domain/rearing/season/season-frame.ts';
import { seasonTasks } from '#domain/rearing/season/season-task.ts';
import type { SeasonWish } from '#domain/rearing/season/season-wish.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import { addDays, day } from '#units/calendar-day.ts';
import { solveSeason } from './season-solver.ts';

const on = ['2027-06-12', '2027-06-19', '2027-06-26'].map(day);
const wish: SeasonWish = season({
  crosses: Array.from({ length: 6 }, (_, i) => ({
    cross: `cross ${i + 1}`,
    dam: `A${i % 3}`,
    drones: [{ mother: `M${i % 2}`, share: 1 }],
    queens: 10,
    dose: 8,
    earliest: on[i % 3] ?? day('2027-06-12'),
    latest: on[i % 3] ?? day('2027-06-12'),
  })),
  from: day('2027-06-10'),
  to: day('2027-06-30'),
  limits: { queensPerDay: 30, cells: 120, nucs: 100, combsPerMother: 3, oneYardADay: true },
  yards: { A1: 'hill', M1: 'wood' },
});

/** A season of six crosses on three days, from the wish to a lost graft and back. */
describe('a season from wish to repair', async () => {
  const { plan, queens } = await solveSeason({ wish, seed: 1, milliseconds: 2500 });
  const frame = seasonFrame(wish);
  const days = dayPlansOf(plan, frame);
  const second = days.find((one) => one.on === on[1]) as DayPlan;
  const [bar] = second.queens[0]?.grafts ?? [];
  const lost = afterwards(second, { what: 'counted', graft: bar?.id ?? '', after: 'accepted', left: 10 });
  const means = { today: addDays(second.on, -17), profile: standardText, starterReady: true };
  const steps = cheapestRepair(lost, means);

  it('is planned whole, on the three days, every day nine in ten sure on every link', () => {
    expect(queens).toEqual([10, 10, 10, 10, 10, 10]);
    expect(seasonChances(plan, frame).map((one) => one.on)).toEqual(on);
    for (const { readiness } of seasonChances(plan, frame))
      for (const { chance } of readiness.links) expect(chance).toBeGreaterThan(0.89);
  });

  it('loses half a graft: the day is in doubt, and its queens are the weakest link', () => {
    expect(isReady(readinessOn(lost, standardText))).toBe(false);
    expect(readinessOn(lost, standardText).weakest).toMatchObject({ side: 'queens' });
  });

  it('is mended by a second, smaller graft for the same day', () => {
    expect(steps[0]).toMatchObject({ kind: 'graft-more' });
    expect(isReady(steps.at(-1)?.readiness ?? readinessOn(lost, standardText))).toBe(true);
  });

  it('moves its calendar instead of doubling it, and steps back to the calendar it had, two numbers on', () => {
    const tasks = seasonTasks(plan, frame);
    const before = eventsOf(tasks, 'season 2027');
    expect(new Set(before.map(({ uid }) => uid)).size).toBe(tasks.length);
    const later = tasks.map((task) =>
      task.of.startsWith('session:cross 2') ? { ...task, from: addDays(task.from, 1), to: addDays(task.to, 1) } : task,
    );
    const moved = movedTasks(tasks, later);
    expect(moved.length).toBeGreaterThan(5);
    expect(moved.every(({ days }) => days === 1)).toBe(true);
    const after = updateEvents(before, later, 'season 2027');
    const back = updateEvents(after, tasks, 'season 2027');
    expect(back.map(({ uid, from }) => [uid, from])).toEqual(before.map(({ uid, from }) => [uid, from]));
    expect(Math.max(...back.map(({ sequence }) => sequence))).toBe(2);
    expect(back.filter(({ sequence }) => sequence === 2)).toHaveLength(moved.length);
  });
});
