import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../support/databases.ts';
import { actNumbered, does, tryTo } from '../support/doing.ts';

const on = (day: string, happened = false) => ({
  done: `${day}T10:00:00.000+02:00[Europe/Berlin]` as Moment,
  ...(happened ? { happened } : {}),
});

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`a cross moved on ${name}`, () => {
    let at: Fresh;
    let made: { dam: RecordId; mother: RecordId; a: RecordId; b: RecordId };
    beforeEach(async () => {
      at = await fresh();
      made = await taken();
    });
    afterEach(() => at.end());

    const queen = (code: string) =>
      does(at.store, 'record-queen', { queen: { code, emerged: '2026-06-20' } }, on('2027-03-20'));
    const cross = (code: string, dam: RecordId, mother: RecordId) =>
      does(
        at.store,
        'plan-cross',
        { cross: { code, queens_wanted: 10, dose_ul: 8 }, dams: [dam], drone_sources: [{ queen: mother }] },
        on('2027-03-20'),
      );

    /**
     * Crosses A and B taken for 12 June: A has a bar and combs of its own; both share another bar of the dam. The days are those of the timetable: graft
     * I−6−12 and I−18, comb in I−20−24−2 (trade-timetable arithmetic of the standard text).
     */
    async function taken() {
      const [dam, mother, other] = [await queen('26-014'), await queen('R-07'), await queen('R-09')];
      const [a, b] = [await cross('A', dam, mother), await cross('B', dam, other)];
      const season = { name: '2027', from_on: '2027-06-10', to_on: '2027-06-30' };
      await does(at.store, 'begin-season', season, on('2027-03-20'));
      const dated = (id: RecordId) => ({
        cross: id,
        on: '2027-06-12',
        queens: 10,
        queen_age: 6,
        drone_age_from: 13,
        drone_age_to: 20,
      });
      const use = (id: RecordId, amount: number) => ({ cross: id, on: '2027-06-12', amount });
      const plan = {
        days: [dated(a), dated(b)],
        bars: [
          { dam, day: '2027-05-25', larvae: 24, uses: [use(a, 10)] },
          { dam, day: '2027-05-26', larvae: 24, uses: [use(a, 0), use(b, 10)] },
        ],
        combs: [
          { mother, day: '2027-04-27', combs: 2, uses: [use(a, 2)] },
          { mother: other, day: '2027-04-27', combs: 2, uses: [use(b, 2)] },
        ],
      };
      const done = await tryTo(at.store, 'take-season-plan', plan, on('2027-04-01'));
      if ('problems' in done) throw new Error(JSON.stringify(done.problems));
      return { dam, mother, a, b };
    }

    const all = <T>(asked: Parameters<typeof at.store.read<T>>[1]) =>
      at.store.read('all', asked).then(({ answer }) => answer);
    const bars = async () => (await all((facts) => facts.find('planned_graft'))).map(({ day }) => day).sort();
    const combs = async () => (await all((facts) => facts.find('planned_comb'))).map(({ in_on }) => in_on).sort();
    const taskDays = async (key: string) =>
      (await all((facts) => facts.find('task', { key, cancelled: null }))).map(({ span_from }) => span_from).sort();
    const change = async (set: object, when = '2027-04-02') => {
      const done = await tryTo(at.store, 'change-cross', { cross: made.a, set }, on(when));
      if ('problems' in done) throw new Error(JSON.stringify(done.problems));
      return done.seq;
    };

    test('takes its own planned bar and combs along, tasks and calendar entries with them; a shared bar stays', async () => {
      const before = await all((facts) => facts.find('task', { key: 'graft' }));
      await change({ inseminate_on: '2027-06-14' });
      expect(await bars()).toEqual(['2027-05-26', '2027-05-27']);
      expect(await combs()).toEqual(['2027-04-27', '2027-04-29']);
      expect(await taskDays('graft')).toEqual(['2027-05-26', '2027-05-27']);
      expect(await taskDays('virgins-emerge')).toEqual(['2027-06-07', '2027-06-08']);
      expect(await taskDays('drone-comb-in')).toEqual(['2027-04-27', '2027-04-29']);
      const after = await all((facts) => facts.find('task', { key: 'graft' }));
      expect(after.map(({ uid }) => uid).sort()).toEqual(before.map(({ uid }) => uid).sort());
      expect(after.find(({ span_from }) => span_from === '2027-05-27')).toMatchObject({ sequence: 1 });
    });

    test('steps back as one act', async () => {
      const seq = await change({ inseminate_on: '2027-06-14', queen_age: 7 });
      expect(await bars()).toEqual(['2027-05-26', '2027-05-26']);
      const back = { act: await actNumbered(at.store, seq) };
      expect(await tryTo(at.store, 'step-back', back, on('2027-04-02'))).toMatchObject({ seq: seq + 1 });
      expect(await bars()).toEqual(['2027-05-25', '2027-05-26']);
      expect(await combs()).toEqual(['2027-04-27', '2027-04-27']);
      expect(await taskDays('graft')).toEqual(['2027-05-25', '2027-05-26']);
    });

    test('by an age alone moves that side alone: older queens are grafted earlier, younger drones laid later', async () => {
      await change({ queen_age: 8 });
      expect(await bars()).toEqual(['2027-05-23', '2027-05-26']);
      expect(await combs()).toEqual(['2027-04-27', '2027-04-27']);
      await change({ drone_age_from: 12, drone_age_to: 19 });
      expect(await combs()).toEqual(['2027-04-27', '2027-04-28']);
      expect(await bars()).toEqual(['2027-05-23', '2027-05-26']);
    });

    test('never moves what has happened: a comb hung in, a graft ticked', async () => {
      const comb = { code: 'D-1', mother: made.mother, in_on: '2027-04-27' };
      await does(at.store, 'record-drone-comb', comb, on('2027-04-27', true));
      const [own] = await all((facts) => facts.find('planned_graft', { day: '2027-05-25' as never }));
      const [graft] = await all((facts) => facts.find('task', { key: 'graft', planned_graft: own?.id ?? null }));
      await tryTo(at.store, 'do-task', { tasks: [graft?.id], on: '2027-05-25' }, on('2027-05-25'));
      await change({ inseminate_on: '2027-06-14' }, '2027-05-25');
      expect(await bars()).toEqual(['2027-05-25', '2027-05-26']);
      expect(await combs()).toEqual(['2027-04-27', '2027-04-27']);
      expect(await taskDays('virgins-emerge')).toEqual(['2027-06-06', '2027-06-07']);
      expect(await taskDays('inseminate')).toEqual(['2027-06-12', '2027-06-14']);
    });

    test('counted back to another day goes the same way; without a day nothing is raised for it any more', async () => {
      await does(at.store, 'count-back', { cross: made.a, inseminate_on: '2027-06-13' }, on('2027-04-02'));
      expect(await bars()).toEqual(['2027-05-26', '2027-05-26']);
      await change({ inseminate_on: null });
      const open = await all((facts) => facts.find('planned_graft', { cancelled: null }));
      expect(open.map(({ day }) => day)).toEqual(['2027-05-26']);
      expect(await taskDays('drone-comb-in')).toEqual(['2027-04-27']);
      expect(await taskDays('graft')).toEqual(['2027-05-26']);
    });
  });
