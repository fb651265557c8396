import { beforeEach, describe, expect, it } from 'vitest';
import { replay } from '#actions/mechanism/replay.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, newId, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import type { Question } from '../mechanism/question.ts';
import { parkedActs } from './parked-acts.ts';
import { type TodayAnswer, todayQuestion } from './today.ts';

const spring = { done: '2027-04-20T10:00:00.000+02:00[Europe/Berlin]' as Moment };

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

async function asks<I, F, A>(question: Question<I, F, A>, input: I): Promise<Awaited<A>> {
  const answered = await ask(question, input, portsOver(fresh.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as Awaited<A>;
}

const on = (today: string): Promise<TodayAnswer> => asks(todayQuestion, { today: today as Day });

/** One cross; its drone mother heads a colony in the Mill yard. */
async function planned() {
  const yard = await does(fresh.store, 'record-yard', { name: 'Mill yard', walking_order: 1 });
  const colony = await does(fresh.store, 'record-colony', { colony: { code: 'M 4', form: 'full' }, yard });
  const queen = (code: string, stands?: object) =>
    does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' }, stands }, spring);
  const dam = await queen('26-014');
  const mother = await queen('R-07', { colony });
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
  const input = { cross, dams: [dam], drone_sources: [{ queen: mother }] };
  return { cross: await does(fresh.store, 'plan-cross', input, spring), dam, mother };
}

describe('Today', () => {
  it('is empty on an empty book', async () => {
    expect(await on('2027-04-20')).toMatchObject({ isEmpty: true, today: [], tomorrow: [], worries: [], late: 0 });
  });

  it('groups what is due by yard, with what to carry and whom it is about', async () => {
    await planned();
    const { today, isEmpty } = await on('2027-04-26');
    expect(isEmpty).toBe(false);
    expect(today).toMatchObject([
      { yard: 'Mill yard', lines: [{ key: 'drone-comb-in', state: 'due', who: ['R-07'], fromI: -47 }] },
    ]);
    expect(today[0]?.carry).toEqual([{ key: 'drone-comb-in', queens: 12 }]);
  });

  it('says how many cells come out of a bar once they were counted: a cage for each, not for each queen wanted', async () => {
    const { cross, dam } = await planned();
    const cellsOut = async () =>
      (await on('2027-06-02')).today.flatMap(({ lines }) => lines).find(({ key }) => key === 'cells-out');
    const at = { done: '2027-05-23T10:00:00.000+02:00[Europe/Berlin]' as Moment, happened: true };
    const ranges = [{ position_from: 1, position_to: 26, dam }];
    const graft = await does(
      fresh.store,
      'record-graft',
      { graft: { code: 'bar 1', day: '2027-05-23', cross }, ranges },
      at,
    );
    expect(await cellsOut()).toMatchObject({ amount: null });
    const positions = Array.from({ length: 20 }, (_, i) => i + 1);
    await does(fresh.store, 'record-cells', { graft, what: 'accepted', positions }, at);
    await does(fresh.store, 'record-cells', { graft, what: 'lost', positions: [3] }, at);
    expect(await cellsOut()).toMatchObject({ amount: { what: 'cells', n: 19 }, queens: 12 });
  });

  it('carries a late task on until it is done, and shows it ticked on the day it is', async () => {
    await planned();
    const later = await on('2027-06-01');
    const comb = later.today.flatMap(({ lines }) => lines).find(({ key }) => key === 'drone-comb-in');
    expect(comb).toMatchObject({ state: 'late', late: 36 });
    expect(later.late).toBeGreaterThan(3);
    const ticked = { done: '2027-06-01T09:00:00.000+02:00[Europe/Berlin]' as Moment };
    await tryTo(fresh.store, 'do-task', { tasks: [comb?.id] }, ticked);
    const after = await on('2027-06-01');
    expect(after.today.flatMap(({ lines }) => lines).find(({ id }) => id === comb?.id)).toMatchObject({
      state: 'done',
    });
    expect((await on('2027-06-02')).today.flatMap(({ lines }) => lines).some(({ id }) => id === comb?.id)).toBe(false);
  });

  it('never calls late what happens by itself', async () => {
    await planned();
    const all = (await on('2027-05-20')).today.flatMap(({ lines }) => lines);
    expect(all.some(({ key }) => key === 'drone-eggs')).toBe(false);
    const laying = (await on('2027-05-01')).today.flatMap(({ lines }) => lines);
    expect(laying.find(({ key }) => key === 'drone-eggs')).toMatchObject({ state: 'running' });
  });

  it('shows tomorrow, the week, and that today is insemination day', async () => {
    const { cross } = await planned();
    const eve = await on('2027-06-11');
    expect(eve.tomorrow.flatMap(({ lines }) => lines.map(({ key }) => key))).toContain('inseminate');
    expect(eve.week).toHaveLength(7);
    expect(eve.week[1]).toMatchObject({ day: '2027-06-12', crosses: [{ id: cross }] });
    expect((await on('2027-06-12')).bench).toEqual([{ id: cross, code: 'B', queens: 12 }]);
  });

  it('leaves out what was given up', async () => {
    const { cross } = await planned();
    await does(fresh.store, 'cancel-cross', { cross });
    expect((await on('2027-06-12')).today).toEqual([]);
    expect((await on('2027-06-12')).bench).toEqual([]);
  });

  it('lists open worries until they are settled', async () => {
    const { dam, mother } = await planned();
    await does(fresh.store, 'record-fate', { queen: dam, kind: 'died', happened_on: '2026-05-01' }, spring);
    const past = { code: 'P', queens_wanted: 3, dose_ul: 8, inseminate_on: '2026-06-20' };
    const input = { cross: past, dams: [dam], drone_sources: [{ queen: mother }] };
    await does(fresh.store, 'plan-cross', input, { ...spring, happened: true });
    const { worries } = await on('2027-04-20');
    expect(worries).toMatchObject([{ problem: { code: 'dam-gone', values: { code: '26-014' } }, about: dam }]);
    await does(fresh.store, 'settle-worry', { worry: worries[0]?.id, how: 'entered from the old book' });
    expect((await on('2027-04-20')).worries).toEqual([]);
  });
});

describe('acts of devices that could not be done', () => {
  const parkOne = () =>
    replay(
      [{ id: newId(), name: 'do-task', input: { tasks: ['01960000-0000-7000-8000-000000000000'] }, done: spring.done }],
      portsOver(fresh.store),
    );

  it('wait in the list until a person settles them with a word', async () => {
    const [replayed] = await parkOne();
    expect(replayed).toMatchObject({ outcome: 'parked' });
    const { parked } = await asks(parkedActs, {});
    expect(parked).toMatchObject([{ act: { name: 'do-task' }, problems: [{ code: 'unknown-record' }] }]);
    const settled = { parked: parked[0]?.act.id, what: 'do-task', how: 'the task was stepped back' };
    await does(fresh.store, 'settle-parked', settled);
    expect((await asks(parkedActs, {})).parked).toEqual([]);
    expect((await on('2027-04-20')).worries).toEqual([]);
  });
});
