import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { computations } from '#compute/computations.ts';
import type { Ports } from '#ports/ports.ts';
import { crossLeaf } from '#questions/crosses/cross-leaf.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { type MovedCross, movedCross } from '#questions/rearing/moved-cross.ts';
import { day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../support/databases.ts';
import { actNumbered, does, portsOver, tryTo } from '../support/doing.ts';

const on = (day: string, happened = false) => ({
  done: `${day}T10:00:00.000+02:00[Europe/Berlin]` as Moment,
  ...(happened ? { happened } : {}),
});

/** The computations of the product, in place. */
const compute: Ports['compute'] = {
  run: async (name, facts) => (await computations[name]?.(facts as never, () => undefined)) as never,
};

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

    test('a calendar that read the move takes the step back too: the number of an entry never goes down', async () => {
      const entry = async () => {
        const answered = await ask(crossLeaf, { cross: made.a, today: day('2027-04-02') }, portsOver(at.store));
        if ('problems' in answered) throw new Error('no leaf');
        const found = answered.answer?.tasks.find(({ key }) => key === 'inseminate');
        return { from: found?.from, sequence: found?.sequence ?? -1 };
      };
      const first = await entry();
      const seq = await change({ inseminate_on: '2027-06-14' });
      const moved = await entry();
      await tryTo(at.store, 'step-back', { act: await actNumbered(at.store, seq) }, on('2027-04-02'));
      const back = await entry();
      expect([first.from, moved.from, back.from]).toEqual(['2027-06-12', '2027-06-14', '2027-06-12']);
      // RFC 5546, 2.1.4: an entry with a lower SEQUENCE than the one held is out of date and left alone.
      expect(moved.sequence).toBeGreaterThan(first.sequence);
      expect(back.sequence).toBeGreaterThan(moved.sequence);
    });

    test('a calendar that read a plan is told when the plan is stepped back, and takes it when it is taken again', async () => {
      const leaf = async () => {
        const answered = await ask(crossLeaf, { cross: made.a, today: day('2027-04-02') }, portsOver(at.store));
        if ('problems' in answered || answered.answer === null) throw new Error('no leaf');
        return answered.answer;
      };
      const read = await leaf();
      expect(read.gone).toEqual([]);
      const plan = (await at.store.acts({})).find(({ name: its }) => its === 'take-season-plan');
      await tryTo(at.store, 'step-back', { act: plan?.id, with_later: true }, on('2027-04-02'));
      const back = await leaf();
      expect(back.tasks).toEqual([]);
      const uids = (entries: readonly { uid: string }[]) => entries.map(({ uid }) => uid).sort();
      expect(uids(back.gone)).toEqual(uids(read.tasks));
      const held = new Map(read.tasks.map(({ uid, sequence }) => [uid, sequence]));
      expect(back.gone.every(({ uid, sequence }) => sequence > (held.get(uid) ?? 0))).toBe(true);
      await tryTo(at.store, 'step-back', { act: (await at.store.acts({})).at(-1)?.id }, on('2027-04-02'));
      const again = await leaf();
      expect(again.gone).toEqual([]);
      const dropped = new Map(back.gone.map(({ uid, sequence }) => [uid, sequence]));
      expect(again.tasks.every(({ uid, sequence }) => sequence > (dropped.get(uid) ?? 0))).toBe(true);
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

    const movedTo = async (set: object, today = '2027-04-02'): Promise<MovedCross> => {
      const input = { cross: made.a, today: day(today), set: { inseminate_on: day('2027-06-12'), ...set } };
      const answered = await ask(movedCross, input, portsOver(at.store, compute));
      if ('problems' in answered || answered.answer === null) throw new Error(JSON.stringify(answered));
      return answered.answer;
    };

    test('tells before it is kept what the act then does: tasks, what goes along, what stays', async () => {
      const told = await movedTo({ inseminate_on: '2027-06-14' });
      expect(told.along).toEqual({ bars: 1, combs: 1 });
      expect(told.staying).toEqual([{ side: 'queens', name: '26-014', why: 'shared', crosses: ['B'] }]);
      expect(told.tasks.late).toEqual([]);
      const before = new Map((await all((facts) => facts.find('task'))).map(({ id, span_from }) => [id, span_from]));
      await change({ inseminate_on: '2027-06-14' });
      const after = await all((facts) => facts.find('task', { cancelled: null }));
      expect(after.filter(({ id, span_from }) => before.get(id) !== span_from)).toHaveLength(told.tasks.moved);
    });

    test('tells chances beside those of now: the same where all goes along, better or worse where a bar stays', async () => {
      const day1 = await movedTo({ inseminate_on: '2027-06-13' });
      expect(day1.before.chance).toBeGreaterThan(0.5);
      // The shared bar stays: its latest queens were four days old on the 12th, under the usable five (standard text), and are of age on the 13th.
      expect(day1.after.queens.chance).toBeGreaterThan(day1.before.queens.chance);
      expect(day1.after.mothers[0]?.chance).toBeCloseTo(day1.before.mothers[0]?.chance ?? 0, 12);
      const ranges = [{ position_from: 1, position_to: 24, dam: made.dam }];
      const graft = { code: 'bar 1', day: '2027-05-25', cross: made.a };
      await does(at.store, 'record-graft', { graft, ranges }, on('2027-05-25', true));
      // Grafted on 25 May, out on 6 June: 20 days old on 26 June, past the usable 14 (standard text).
      const late = await movedTo({ inseminate_on: '2027-06-26' }, '2027-05-26');
      expect(late.after.weakest).toBe('queens');
      expect(late.after.queens.chance).toBeLessThan(late.before.queens.chance - 0.3);
      expect(late.staying).toContainEqual({ side: 'queens', name: 'bar 1', why: 'raised', crosses: [] });
    });

    test('counts the tasks that would be late already: a comb to be hung in before today', async () => {
      const told = await movedTo({ inseminate_on: '2027-06-10' }, '2027-04-27');
      // The bar goes along to 23 May; the comb would have to be in on 25 April and stays on the 27th.
      expect(told.along).toEqual({ bars: 1, combs: 0 });
      expect(told.tasks.lateBefore).toBe(0);
      expect(told.tasks.late).toEqual([]);
      const past = await movedTo({ inseminate_on: '2027-06-13' }, '2027-04-29');
      expect(past.tasks.lateBefore).toBeGreaterThan(0);
      expect(past.tasks.late.map(({ key }) => key)).toContain('drone-comb-in');
    });

    test('takes a comb nobody wrote down along to a day still to come, and reckons it as hung in today at the earliest', async () => {
      // In on 27 April with eggs from the 29th: 20 days old on 12 June. Hung in on 3 May they are 14 days old (24 days of brood, standard text).
      const still = await movedTo({}, '2027-05-03');
      const onTime = await movedTo({}, '2027-04-27');
      expect(still.before.mothers[0]?.chance).toBeLessThan(onTime.before.mothers[0]?.chance ?? 0);
      const moved = await movedTo({ inseminate_on: '2027-06-18' }, '2027-05-03');
      expect(moved.along.combs).toBe(1);
      expect(moved.tasks.late.map(({ key }) => key)).not.toContain('drone-comb-in');
      expect(moved.after.mothers[0]?.chance).toBeCloseTo(onTime.before.mothers[0]?.chance ?? 0, 12);
      await change({ inseminate_on: '2027-06-18' }, '2027-05-03');
      expect(await combs()).toEqual(['2027-04-27', '2027-05-03']);
    });
  });
