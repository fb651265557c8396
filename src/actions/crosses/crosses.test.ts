import { beforeEach, describe, expect, it } from 'vitest';
import type { Done, Refused } from '#ports/store.ts';
import type { Moment } from '#units/moment.ts';
import { sayProblem } from '#words/say.ts';
import type { Fresh } from '../../../tests/support/databases.ts';
import { databases } from '../../../tests/support/databases.ts';
import { actNumbered, does, tryTo } from '../../../tests/support/doing.ts';

/** The worked example of the design: insemination on Saturday 12 June 2027, planned on 20 April. */
const spring = '2027-04-20T10:00:00.000+02:00[Europe/Berlin]' as Moment;
const on = (day: string) => `${day}T10:00:00.000+02:00[Europe/Berlin]` as Moment;

let fresh: Fresh;
const sqlite = databases[0];
beforeEach(async () => {
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const queen = (code: string, more: object = {}) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20', ...more } }, { done: spring });

type Sides = { dam: string; drone: string };
const sides = async (): Promise<Sides> => ({ dam: await queen('26-014'), drone: await queen('R-07') });

const plan = ({ dam, drone }: Sides, cross: object = {}, more: object = {}) => ({
  cross: { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12', ...cross },
  dams: [dam],
  drone_sources: [{ queen: drone }],
  ...more,
});

const tasks = async () => {
  const { answer } = await fresh.store.read('all', (facts) => facts.find('task'));
  return new Map(answer.map((task) => [task.key, task]));
};
const codes = (done: Done | Refused) => ('problems' in done ? done.problems.map(({ code }) => code) : ['(kept)']);
const words = (done: Done | Refused) => ('problems' in done ? done.problems.map(sayProblem).join(' ') : '');

describe('planning a cross', () => {
  it('writes the cross, both sides and all its tasks as one act, counted back as the trade’s timetable has it', async () => {
    const id = await does(fresh.store, 'plan-cross', plan(await sides()), { done: spring });
    const written = await tasks();
    // Graft I-20, emergence I-8, useful drone eggs I-45 … I-38 (trade-timetable arithmetic: 12 + 8; 24 + 21; 24 + 14 days).
    expect(written.get('graft')).toMatchObject({ cross: id, day: '2027-05-23', sequence: 0, done_on: null });
    expect(written.get('virgins-emerge')?.day).toBe('2027-06-04');
    expect(written.get('drone-eggs')).toMatchObject({ span_from: '2027-04-28', span_to: '2027-05-05' });
    expect(written.get('inseminate')?.day).toBe('2027-06-12');
    expect(new Set([...written.values()].map(({ uid }) => uid)).size).toBe(written.size);
  });

  it('steps back as one act: nothing of the cross is left', async () => {
    await does(fresh.store, 'plan-cross', plan(await sides()), { done: spring });
    const act = await actNumbered(fresh.store, 3);
    await tryTo(fresh.store, 'step-back', { act });
    const { answer } = await fresh.store.read('all', async (facts) => [
      await facts.count('cross'),
      await facts.count('cross_dam'),
      await facts.count('task'),
    ]);
    expect(answer).toEqual([0, 0, 0]);
  });

  it('is refused without queens, without a side, with shares that do not add up, with a code in use', async () => {
    const both = await sides();
    const planned = (given: object) => tryTo(fresh.store, 'plan-cross', given, { done: spring });
    expect(codes(await planned(plan(both, { queens_wanted: 0 })))).toEqual(['no-queens']);
    expect(codes(await planned({ ...plan(both), dams: [], drone_sources: [] }))).toEqual(['no-dam', 'no-drone-side']);
    const halves = [
      { queen: both.drone, share: 0.6 },
      { queen: both.dam, share: 0.6 },
    ];
    expect(codes(await planned({ ...plan(both), drone_sources: halves }))).toEqual(['shares-not-whole']);
    expect(codes(await planned(plan(both, { drone_age_from: 21, drone_age_to: 14 })))).toEqual(['drone-age-backwards']);
    expect(codes(await planned(plan(both, { inseminate_on: '2027-06-31' })))).toEqual(['not-a-day']);
    await planned(plan(both));
    expect(codes(await planned(plan(both)))).toEqual(['cross-code-taken']);
  });

  it('refuses a dead dam and names living sisters', async () => {
    const mother = await queen('24-001', { emerged: '2024-06-01' });
    const dead = await queen('26-020', { dam: mother });
    await queen('26-021', { dam: mother });
    await does(fresh.store, 'record-fate', { queen: dead, kind: 'died', happened_on: '2027-01-10' }, { done: spring });
    const refused = await tryTo(fresh.store, 'plan-cross', plan({ dam: dead, drone: await queen('R-07') }), {
      done: spring,
    });
    expect(codes(refused)).toEqual(['dam-gone']);
    expect(words(refused)).toContain('Living instead: 26-021.');
    expect(words(refused)).toContain('2027-01-10');
  });

  it('takes a dead drone mother while her last drones can be used (24 + 28 days), or semen of her is kept', async () => {
    const { dam, drone } = await sides();
    await does(fresh.store, 'record-fate', { queen: drone, kind: 'died', happened_on: '2027-04-18' }, { done: spring });
    const late = await tryTo(fresh.store, 'plan-cross', plan({ dam, drone }), { done: spring });
    expect(codes(late)).toEqual(['drone-mother-gone']);
    // 18 April + 24 + 28 = 9 June.
    expect(words(late)).toContain('2027-06-09');
    const soon = plan({ dam, drone }, { inseminate_on: '2027-06-08' }, { drones_there: true });
    expect(await tryTo(fresh.store, 'plan-cross', soon, { done: spring })).toMatchObject({
      warnings: [{ code: 'drone-mother-gone-drones-left' }],
    });
  });

  it('refuses a day that cannot be reached, with the earliest that can, unless what is missing is there', async () => {
    const both = await sides();
    const near = plan(both, { inseminate_on: '2027-05-15' });
    const refused = await tryTo(fresh.store, 'plan-cross', near, { done: spring });
    expect(codes(refused)).toEqual(['drones-too-late']);
    // Comb in today (20 April) + 2 + 24 + 14 days = 30 May.
    expect(words(refused)).toContain('The earliest day is 2027-05-30');
    expect(
      codes(await tryTo(fresh.store, 'plan-cross', plan(both, { inseminate_on: '2027-05-01' }), { done: spring })),
    ).toEqual(['drones-too-late', 'queens-too-late']);
    expect(
      codes(await tryTo(fresh.store, 'plan-cross', plan(both, { inseminate_on: '2027-04-01' }), { done: spring })),
    ).toEqual(['day-past']);
    await does(fresh.store, 'plan-cross', { ...near, drones_there: true }, { done: spring });
    const written = await tasks();
    expect(written.has('drone-comb-in')).toBe(false);
    expect(written.has('graft')).toBe(true);
  });

  it('takes a near day when a drone comb in the book is of age then', async () => {
    const both = await sides();
    const comb = {
      code: 'R-07 a',
      mother: both.drone,
      in_on: '2027-03-30',
      laid_from: '2027-04-02',
      laid_to: '2027-04-05',
    };
    await does(fresh.store, 'record-drone-comb', comb, { done: spring });
    await does(fresh.store, 'plan-cross', plan(both, { inseminate_on: '2027-05-15' }), { done: spring });
    expect((await tasks()).has('drone-comb-in')).toBe(false);
  });

  it('keeps a task that is late but still to be done', async () => {
    await does(fresh.store, 'plan-cross', plan(await sides(), { inseminate_on: '2027-06-05' }), { done: spring });
    // The oldest useful drones want the comb in on 19 April, yesterday; the youngest still come in time.
    expect((await tasks()).get('drone-comb-in')).toMatchObject({ day: '2027-04-19', done_on: null });
  });

  it('writes down a cross that has happened: no tasks of the past, and a doubt only where something cannot have been', async () => {
    const { dam, drone } = await sides();
    const happened = { done: spring, happened: true };
    await does(fresh.store, 'plan-cross', plan({ dam, drone }, { inseminate_on: '2026-09-20' }), happened);
    expect((await tasks()).size).toBe(0);
    const worries = async () => (await fresh.store.read('all', (facts) => facts.find('worry'))).answer;
    expect(await worries()).toEqual([]);
    await does(fresh.store, 'record-fate', { queen: dam, kind: 'died', happened_on: '2026-08-25' }, { done: spring });
    await does(fresh.store, 'plan-cross', plan({ dam, drone }, { code: 'C', inseminate_on: '2026-09-20' }), happened);
    expect((await worries()).map(({ code, about }) => [code, about])).toEqual([['dam-gone', dam]]);
  });
});

describe('changing a cross', () => {
  it('moves its day and every task that is not done, in one act that steps back whole', async () => {
    const id = await does(fresh.store, 'plan-cross', plan(await sides()), { done: spring });
    const comb = (await tasks()).get('drone-comb-in');
    await does(fresh.store, 'do-task', { tasks: [comb?.id] }, { done: on('2027-04-26') });
    await does(
      fresh.store,
      'change-cross',
      { cross: id, set: { inseminate_on: '2027-06-13' } },
      { done: on('2027-05-01') },
    );
    const moved = await tasks();
    expect(moved.get('drone-comb-in')).toMatchObject({ day: '2027-04-26', done_on: '2027-04-26', sequence: 0 });
    expect(moved.get('graft')).toMatchObject({ day: '2027-05-24', sequence: 1, uid: `${moved.get('graft')?.uid}` });
    expect(moved.get('inseminate')).toMatchObject({ day: '2027-06-13', sequence: 1 });
    const last = (await fresh.store.acts({ newest: 1 }))[0];
    await tryTo(fresh.store, 'step-back', { act: last?.id });
    expect((await tasks()).get('graft')).toMatchObject({ day: '2027-05-23', sequence: 0 });
  });

  it('cancels the first carbon dioxide when two doses are planned, and brings it back with one', async () => {
    const id = await does(fresh.store, 'plan-cross', plan(await sides()), { done: spring });
    await does(fresh.store, 'change-cross', { cross: id, set: { doses: 2 } }, { done: spring });
    expect((await tasks()).get('first-co2')).toMatchObject({ cancelled: 1, sequence: 1 });
    expect((await tasks()).get('second-dose')?.day).toBe('2027-06-14');
    await does(fresh.store, 'change-cross', { cross: id, set: { doses: 1 } }, { done: spring });
    expect((await tasks()).get('first-co2')).toMatchObject({ cancelled: null, sequence: 2 });
    expect((await tasks()).get('second-dose')).toMatchObject({ cancelled: 1 });
  });

  it('changes sides and stand-ins, keeping the rows that stay', async () => {
    const both = await sides();
    const id = await does(fresh.store, 'plan-cross', plan(both), { done: spring });
    const other = await queen('R-09');
    const drone_sources = [
      { queen: both.drone, share: 0.5 },
      { queen: other, share: 0.5 },
    ];
    const stand_ins = [{ queen: other, side: 'drone' }];
    await does(fresh.store, 'change-cross', { cross: id, drone_sources, stand_ins }, { done: spring });
    const { answer } = await fresh.store.read('all', async (facts) => ({
      sources: await facts.find('cross_drone_source', { cross: id }),
      standIns: await facts.find('cross_stand_in', { cross: id }),
    }));
    expect(answer.sources.map(({ queen: of, share }) => [of, share])).toEqual([
      [both.drone, 0.5],
      [other, 0.5],
    ]);
    expect(answer.standIns).toHaveLength(1);
  });

  it('refuses a new dead dam, but an old trouble does not keep the day from moving', async () => {
    const both = await sides();
    const id = await does(fresh.store, 'plan-cross', plan(both), { done: spring });
    await does(
      fresh.store,
      'record-fate',
      { queen: both.dam, kind: 'died', happened_on: '2027-04-19' },
      { done: spring },
    );
    await does(fresh.store, 'change-cross', { cross: id, set: { inseminate_on: '2027-06-14' } }, { done: spring });
    const dead = await queen('26-030');
    await does(fresh.store, 'record-fate', { queen: dead, kind: 'lost', happened_on: '2027-04-19' }, { done: spring });
    const swapped = await tryTo(fresh.store, 'change-cross', { cross: id, dams: [dead] }, { done: spring });
    expect(codes(swapped)).toEqual(['dam-gone']);
  });

  it('gives a cross up with its open tasks', async () => {
    const id = await does(fresh.store, 'plan-cross', plan(await sides()), { done: spring });
    await does(fresh.store, 'cancel-cross', { cross: id });
    expect([...(await tasks()).values()].every(({ cancelled }) => cancelled === 1)).toBe(true);
    expect(codes(await tryTo(fresh.store, 'change-cross', { cross: id, set: { queens_wanted: 3 } }))).toEqual([
      'cross-cancelled',
    ]);
  });
});

describe('starting with one cross', () => {
  const answers = { inseminate_on: '2027-06-12', queens: 12, queen_mother: '24-031', drone_mother: 'K-12' };

  it('turns four answers into two queens, a cross and its days', async () => {
    const id = await does(fresh.store, 'start-with-one-cross', answers, { done: spring });
    const { answer } = await fresh.store.read('all', async (facts) => ({
      cross: await facts.get('cross', id),
      queens: (await facts.find('queen')).map(({ code }) => code),
    }));
    expect(answer.cross).toMatchObject({ code: 'A', queens_wanted: 12, dose_ul: 8 });
    expect(answer.queens.sort()).toEqual(['24-031', 'K-12']);
    expect((await tasks()).get('graft')?.day).toBe('2027-05-23');
  });

  it('uses queens that are in the book, and one code on both sides as one queen', async () => {
    await queen('24-031');
    await does(fresh.store, 'start-with-one-cross', { ...answers, drone_mother: '24-031' }, { done: spring });
    const { answer } = await fresh.store.read('all', (facts) => facts.count('queen'));
    expect(answer).toBe(1);
  });

  it('writes nothing at all when the day cannot be reached', async () => {
    const refused = await tryTo(
      fresh.store,
      'start-with-one-cross',
      { ...answers, inseminate_on: '2027-05-15' },
      { done: spring },
    );
    expect(codes(refused)).toEqual(['drones-too-late']);
    const { answer } = await fresh.store.read('all', (facts) => facts.count('queen'));
    expect(answer).toBe(0);
  });
});
