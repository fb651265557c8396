import { beforeEach, describe, expect, it } from 'vitest';
import type { Done, Refused } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import type { Fresh } from '../../../tests/support/databases.ts';
import { databases } from '../../../tests/support/databases.ts';
import { does, tryTo } from '../../../tests/support/doing.ts';

const on = (day: string) => ({ done: `${day}T10:00:00.000+02:00[Europe/Berlin]` as Moment });

let fresh: Fresh;
const sqlite = databases[0];
beforeEach(async () => {
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
const all = <T>(ask: Parameters<typeof fresh.store.read<T>>[1]) =>
  fresh.store.read('all', ask).then(({ answer }) => answer);
const codes = (done: Done | Refused) => ('problems' in done ? done.problems.map(({ code }) => code) : ['(kept)']);

async function planned() {
  const dam = await queen('26-014');
  const other = await queen('26-020');
  const drone = await queen('R-07');
  const cross = await does(
    fresh.store,
    'plan-cross',
    {
      cross: { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' },
      dams: [dam],
      drone_sources: [{ queen: drone }],
    },
    on('2027-04-20'),
  );
  return { dam, other, drone, cross };
}

const taskOf = async (key: string) => (await all((facts) => facts.find('task', { key })))[0];

/** Odd record 13: bar 3, cells 1-10 from dam A, 11-20 from dam B. */
async function bar() {
  const made = await planned();
  const ranges = [
    { position_from: 1, position_to: 10, dam: made.dam },
    { position_from: 11, position_to: 20, dam: made.other },
  ];
  const graft = { code: 'bar 3', day: '2027-05-23', larva_age_hours: 18, cross: made.cross };
  const id = await does(fresh.store, 'record-graft', { graft, ranges }, on('2027-05-23'));
  return { ...made, bar: id };
}

describe('a grafted bar', () => {
  it('has a cell for every larva and does the task of its cross', async () => {
    const { bar: id } = await bar();
    expect(await all((facts) => facts.count('graft_cell', { graft: id }))).toBe(20);
    expect(await all((facts) => facts.get('graft', id))).toMatchObject({ larvae: 20 });
    expect(await taskOf('graft')).toMatchObject({ done_on: '2027-05-23' });
    expect(await taskOf('starter')).toMatchObject({ done_on: '2027-05-23' });
  });

  it('is refused when two dams share a position or a range runs backwards', async () => {
    const { dam, other } = await planned();
    const graft = { code: 'bar 3', day: '2027-05-23' };
    const tried = (ranges: object[]) => tryTo(fresh.store, 'record-graft', { graft, ranges }, on('2027-05-23'));
    expect(
      codes(
        await tried([
          { position_from: 1, position_to: 10, dam },
          { position_from: 10, position_to: 20, dam: other },
        ]),
      ),
    ).toEqual(['position-twice']);
    expect(codes(await tried([{ position_from: 9, position_to: 2, dam }]))).toEqual(['range-backwards']);
    expect(codes(await tried([{ position_from: 0, position_to: 2, dam }]))).toEqual(['too-small']);
  });

  it('says of its cells which were accepted, sealed, taken out, lost, given away', async () => {
    const { bar: id } = await bar();
    const record = (what: string, positions: number[], more: object = {}) =>
      tryTo(fresh.store, 'record-cells', { graft: id, what, positions, ...more }, on('2027-05-25'));
    await record('accepted', [1, 2, 3, 14]);
    const accepted = await all((facts) => facts.find('graft_cell', { graft: id, accepted: 1 }));
    expect(accepted.map(({ position }) => position)).toEqual([1, 2, 3, 14]);
    expect(await all((facts) => facts.count('graft_cell', { graft: id, accepted: 0 }))).toBe(16);
    await record('out', [1, 2, 3], { on: '2027-06-02' });
    expect(await taskOf('cells-out')).toMatchObject({ done_on: '2027-06-02' });
    expect(codes(await record('out', [21]))).toEqual(['no-such-cell']);
    expect(codes(await record('given', [14]))).toEqual(['needed']);
    await record('given', [14], { given_to: 'a neighbour' });
    expect(await all((facts) => facts.count('graft_cell', { given_to: 'a neighbour' }))).toBe(1);
  });

  it('gives virgins who know their position and hence their dam, with or without a code', async () => {
    const made = await bar();
    const virgins = [{ position: 3 }, { position: 14, code: '27-014', disc: 14 }];
    await does(fresh.store, 'emerge-virgins', { graft: made.bar, on: '2027-06-04', virgins }, on('2027-06-04'));
    const queens = await all((facts) => facts.find('queen', { emerged: '2027-06-04' as never }));
    expect(queens.map(({ code, dam }) => [code, dam])).toEqual([
      [null, made.dam],
      ['27-014', made.other],
    ]);
    expect(await all((facts) => facts.find('mark'))).toMatchObject([{ disc: 14, worn_from: '2027-06-04' }]);
    expect(await taskOf('virgins-emerge')).toMatchObject({ done_on: '2027-06-04' });
    const again = await tryTo(fresh.store, 'emerge-virgins', { graft: made.bar, virgins: [{ position: 3 }] });
    expect(codes(again)).toEqual(['cell-hatched']);
  });

  it('does the first carbon dioxide task with the last living virgin', async () => {
    const made = await bar();
    const virgins = [{ position: 1 }, { position: 2 }, { position: 3 }];
    await does(fresh.store, 'emerge-virgins', { graft: made.bar, on: '2027-06-04', virgins }, on('2027-06-04'));
    const queens = await all((facts) => facts.find('queen', { emerged: '2027-06-04' as never }));
    const [one, two, three] = queens.map(({ id }) => id);
    await does(fresh.store, 'give-co2', { queens: [one], relation: 'before', minutes: 2 }, on('2027-06-11'));
    expect(await taskOf('first-co2')).toMatchObject({ done_on: null });
    await does(fresh.store, 'record-fate', { queen: two, kind: 'died', happened_on: '2027-06-11' }, on('2027-06-11'));
    await does(fresh.store, 'give-co2', { queens: [three], relation: 'before', minutes: 2 }, on('2027-06-11'));
    expect(await taskOf('first-co2')).toMatchObject({ done_on: '2027-06-11' });
  });
});

describe('a drone comb', () => {
  it('does its tasks with its days, and doubts days that run backwards', async () => {
    const { drone, cross } = await planned();
    const comb = { code: 'R-07 a', mother: drone, in_on: '2027-04-26', cross };
    const id = await does(fresh.store, 'record-drone-comb', comb, on('2027-04-26'));
    expect(await taskOf('drone-comb-in')).toMatchObject({ done_on: '2027-04-26' });
    await does(fresh.store, 'note-drone-comb', { comb: id, set: { laid_from: '2027-04-28' } }, on('2027-04-30'));
    expect(await taskOf('drone-egg-check')).toMatchObject({ done_on: '2027-04-28' });
    const backwards = { comb: id, set: { emerged_from: '2027-04-20' } };
    expect(codes(await tryTo(fresh.store, 'note-drone-comb', backwards))).toEqual(['comb-days-backwards']);
    expect(codes(await tryTo(fresh.store, 'note-drone-comb', backwards, { happened: true }))).toEqual(['(kept)']);
  });
});

describe('tasks', () => {
  it('are ticked once, many at a time, and step back to due', async () => {
    await planned();
    const ids = (await all((facts) => facts.find('task', { key: ['starter', 'nucs-ready'] }))).map(({ id }) => id);
    const done = await tryTo(fresh.store, 'do-task', { tasks: ids }, on('2027-05-21'));
    expect(done).toMatchObject({ again: false });
    expect((await taskOf('starter'))?.done_on).toBe('2027-05-21');
    await tryTo(fresh.store, 'do-task', { tasks: ids }, on('2027-05-25'));
    expect((await taskOf('starter'))?.done_on).toBe('2027-05-21');
    const ticks = (await fresh.store.acts({})).filter(({ name }) => name === 'do-task');
    await tryTo(fresh.store, 'step-back', { act: ticks[0]?.id });
    expect((await taskOf('starter'))?.done_on).toBeNull();
  });

  it('keep the days a person moved them by when the plan moves; biology moves with the plan only', async () => {
    const { cross } = await planned();
    const check = await taskOf('egg-check');
    await does(fresh.store, 'move-task', { task: check?.id, by: 2 }, on('2027-05-01'));
    expect(await taskOf('egg-check')).toMatchObject({ day: '2027-06-21', sequence: 1 });
    await does(fresh.store, 'change-cross', { cross, set: { inseminate_on: '2027-06-13' } }, on('2027-05-01'));
    expect(await taskOf('egg-check')).toMatchObject({ day: '2027-06-22', sequence: 2 });
    const graft = await taskOf('graft');
    expect(codes(await tryTo(fresh.store, 'move-task', { task: graft?.id, by: 1 }))).toEqual(['task-tied']);
  });

  it('can be of one’s own', async () => {
    const id = await does(fresh.store, 'add-task', { words: 'order glass tips', day: '2027-05-02' });
    expect(await all((facts) => facts.get('task', id))).toMatchObject({ key: 'own', words: 'order glass tips' });
  });

  it('are counted back when a cross without a day gets one', async () => {
    const { dam, drone } = await planned();
    const undated = { code: 'C', queens_wanted: 4, dose_ul: 8 };
    const input = { cross: undated, dams: [dam], drone_sources: [{ queen: drone }] };
    const cross = await does(fresh.store, 'plan-cross', input, on('2027-04-20'));
    expect(await all((facts) => facts.count('task', { cross }))).toBe(0);
    expect(codes(await tryTo(fresh.store, 'count-back', { cross }, on('2027-04-20')))).toEqual(['no-day-yet']);
    await does(fresh.store, 'count-back', { cross, inseminate_on: '2027-06-19' }, on('2027-04-20'));
    expect(await all((facts) => facts.count('task', { cross }))).toBeGreaterThan(15);
  });
});
