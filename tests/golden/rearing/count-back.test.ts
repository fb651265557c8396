import { describe, expect, it } from 'vitest';
import { countBack } from '#domain/rearing/count-back.ts';
import { standardText } from '#domain/rearing/standard-text.ts';
import type { Task } from '#domain/rearing/task.ts';
import { addDays, type Day, day, daysBetween } from '#units/calendar-day.ts';
import golden from './countback-days.json';

const byKey = (tasks: readonly Task[]) => new Map<string, Task>(tasks.map((task) => [task.key, task]));
const spanOf = (tasks: Map<string, Task>, key: string) => [tasks.get(key)?.from, tasks.get(key)?.to];
const ages = ([from = 0, to = 0]: number[]) => ({ from, to });

describe('the worked example of an insemination on Saturday 12 June 2027 (development times: stage tables, Winston 1987)', () => {
  const { a } = golden;
  const tasks = byKey(
    countBack({ inseminate: day(a.inseminate), queens: 12, droneAge: ages(a.droneAge), profile: standardText }),
  );

  it.each(Object.entries(a.days))('%s', (key, span) => {
    expect(spanOf(tasks, key)).toEqual(span);
  });

  it('has the first own daughters (about I+31 in the table) inside its window I+26 … I+35', () => {
    const window = tasks.get('own-workers');
    expect([window?.from, window?.to]).toEqual([addDays(day(a.inseminate), 26), addDays(day(a.inseminate), 35)]);
    expect(a.ownWorkersAbout >= String(window?.from) && a.ownWorkersAbout <= String(window?.to)).toBe(true);
  });
});

/*
 * Two differences, both on purpose. The table's "drone comb in" names only the latest useful laying (G−19), which is the end of our
 * `drone-eggs`; ours hangs the comb in before the first useful egg. It has cells sealed on G+4…G+5 and a look at acceptance on G+1…G+2:
 * neither is a task of one countback.
 */
describe('the season timetable counted from graft day G', () => {
  const { b } = golden;
  const on = day('2026-06-20');
  const graft = addDays(on, -19);
  const wish = { inseminate: on, queens: 10, queenAge: b.queenAge, droneAge: ages(b.droneAge), profile: standardText };
  const tasks = byKey(countBack({ ...wish, holdDays: 0 }));

  it.each(Object.entries(b.fromGraft))('%s', (key, [from = 0, to = 0]) => {
    expect(spanOf(tasks, key)).toEqual([addDays(graft, from), addDays(graft, to)]);
  });

  it('gives the second of two doses on G+21, without a separate first carbon dioxide', () => {
    const split = byKey(countBack({ ...wish, doses: 2 }));
    expect(split.get('second-dose')?.day).toBe(addDays(graft, b.secondDose));
    expect(split.has('first-co2')).toBe(false);
  });

  it('expects eggs (G+24 … G+30) between release and the last egg check, first workers (about G+46) in their window', () => {
    const [first = 0, last = 0] = b.eggsExpected;
    expect(daysBetween(graft, tasks.get('release')?.day as Day)).toBeLessThan(first);
    expect(daysBetween(graft, tasks.get('egg-check-3')?.day as Day)).toBeGreaterThan(last);
    const [from, to] = spanOf(tasks, 'own-workers').map((on) => daysBetween(graft, on as Day));
    expect(from).toBeLessThanOrEqual(b.firstWorkersAbout);
    expect(to).toBeGreaterThanOrEqual(b.firstWorkersAbout);
  });
});

describe('the dated example of a graft on 20 May 2025', () => {
  const { c } = golden;
  const on = day(c.days.inseminate);
  const tasks = countBack({
    inseminate: on,
    queens: 10,
    queenAge: 7,
    droneAge: { from: 14, to: 28 },
    profile: standardText,
  });
  const found = byKey(tasks);

  it('falls on its days', () => {
    expect(found.get('graft')?.day).toBe(c.graft);
    for (const [key, on] of Object.entries(c.days)) expect(found.get(key)?.day).toBe(on);
    expect(spanOf(found, 'drone-eggs')).toEqual(c.droneEggs);
  });

  it('counts her first workers from the first eggs: 13 June + 21 = 4 July', () => {
    const wish = { inseminate: on, queens: 10, profile: standardText, eggsSeen: day(c.eggs[0] ?? '') };
    expect(byKey(countBack(wish)).get('own-workers')?.day).toBe(c.ownWorkersFrom);
    expect(found.get('own-workers')?.from).toBe(c.ownWorkersFrom);
  });
});
