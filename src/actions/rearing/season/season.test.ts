import { beforeEach, describe, expect, it } from 'vitest';
import { computeHere } from '#compute/here.ts';
import { explainShortfall, proposeSeason } from '#compute/season-solver.ts';
import { countBack } from '#domain/rearing/count-back.ts';
import { planToTake } from '#domain/rearing/season/plan-to-take.ts';
import type { Done, Refused } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { barLeaf } from '#questions/rearing/bar-leaf.ts';
import { combLeaf } from '#questions/rearing/comb-leaf.ts';
import { countback } from '#questions/rearing/countback.ts';
import { raisingChances } from '#questions/rearing/raising-chances.ts';
import { dayRepairs } from '#questions/rearing/season/day-repairs.ts';
import { seasonDays } from '#questions/rearing/season/season-days.ts';
import { seasonPlan } from '#questions/rearing/season/season-plan.ts';
import { season } from '#questions/rearing/season.ts';
import { day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import type { Fresh } from '../../../../tests/support/databases.ts';
import { databases } from '../../../../tests/support/databases.ts';
import { actNumbered, does, portsOver, tryTo } from '../../../../tests/support/doing.ts';
import { shareOut } from './repair-day.ts';

const on = (date: string) => ({ done: `${date}T10:00:00.000+02:00[Europe/Berlin]` as Moment });
const past = (date: string) => ({ ...on(date), happened: true });

let fresh: Fresh;
const sqlite = databases[0];
beforeEach(async () => {
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const all = <T>(asked: Parameters<typeof fresh.store.read<T>>[1]) =>
  fresh.store.read('all', asked).then(({ answer }) => answer);
const codes = (done: Done | Refused) => ('problems' in done ? done.problems.map(({ code }) => code) : ['(kept)']);
const today = day('2027-04-01');

async function answerOf<A>(answered: Promise<{ answer: A } | Refused>): Promise<A> {
  const got = await answered;
  if ('problems' in got) throw new Error(JSON.stringify(got.problems));
  return got.answer;
}
const pageOn = (date = today) => answerOf(ask(seasonPlan, { today: date }, portsOver(fresh.store)));
const daysOn = (date: string) => answerOf(ask(seasonDays, { today: date }, portsOver(fresh.store, computeHere)));
const repairsOn = (date: string, of: string) =>
  answerOf(ask(dayRepairs, { today: date, on: of }, portsOver(fresh.store, computeHere)));

const queen = (code: string) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-06-20' } }, on('2027-03-20'));
const cross = (code: string, dam: RecordId, mother: RecordId, more: object = {}) =>
  does(
    fresh.store,
    'plan-cross',
    { cross: { code, queens_wanted: 10, dose_ul: 8, ...more }, dams: [dam], drone_sources: [{ queen: mother }] },
    on('2027-03-20'),
  );

/** Two crosses of one dam with two drone mothers on 12 June, as a plan takes them: one bar, two combs. */
async function taken() {
  const [dam, one, other] = [await queen('26-014'), await queen('R-07'), await queen('R-09')];
  const [a, b] = [await cross('A', dam, one), await cross('B', dam, other)];
  await does(
    fresh.store,
    'begin-season',
    { name: '2027', from_on: '2027-06-10', to_on: '2027-06-30' },
    on('2027-03-20'),
  );
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
    bars: [{ dam, day: '2027-05-25', larvae: 43, uses: [use(a, 10), use(b, 10)] }],
    combs: [
      { mother: one, day: '2027-04-27', combs: 2, uses: [use(a, 2)] },
      { mother: other, day: '2027-04-27', combs: 2, uses: [use(b, 2)] },
    ],
  };
  const done = await tryTo(fresh.store, 'take-season-plan', plan, on('2027-04-01'));
  if ('problems' in done) throw new Error(JSON.stringify(done.problems));
  return { dam, one, other, a, b, plan, seq: done.seq };
}

const openTasks = (key: string) => all((facts) => facts.find('task', { key, cancelled: null, done_on: null }));

describe('a plan of the season taken', () => {
  it('moves crosses, and writes the shared bar and the combs once, with their tasks', async () => {
    const { a, b } = await taken();
    expect((await all((facts) => facts.get('cross', a)))?.inseminate_on).toBe('2027-06-12');
    expect(await openTasks('graft')).toMatchObject([{ cross: null, span_from: '2027-05-25' }]);
    expect((await openTasks('drone-comb-in')).map(({ span_from }) => span_from)).toEqual(['2027-04-27', '2027-04-27']);
    expect((await openTasks('inseminate')).map((task) => task.cross)).toEqual([a, b]);
    expect((await all((facts) => facts.find('planned_graft_use'))).map(({ queens }) => queens)).toEqual([10, 10]);
  });

  it('steps back as one act: no cross has a day, and no task of it stands', async () => {
    const { a, seq } = await taken();
    await does(fresh.store, 'step-back', { act: await actNumbered(fresh.store, seq) }).catch(() => undefined);
    expect((await all((facts) => facts.get('cross', a)))?.inseminate_on).toBeNull();
    expect(await all((facts) => facts.count('planned_graft'))).toBe(0);
    expect(await all((facts) => facts.count('task'))).toBe(0);
  });

  it('taken again a day later moves the bar it has, calendar entry and all, and doubles nothing', async () => {
    const { plan } = await taken();
    const [before] = await openTasks('graft');
    const later = { ...plan, bars: plan.bars.map((bar) => ({ ...bar, day: '2027-05-26' })) };
    expect(codes(await tryTo(fresh.store, 'take-season-plan', later, on('2027-04-02')))).toEqual(['(kept)']);
    expect(await openTasks('graft')).toMatchObject([{ uid: before?.uid, span_from: '2027-05-26', sequence: 1 }]);
    expect(await all((facts) => facts.count('planned_graft'))).toBe(1);
  });

  it('makes a cross that needs two days into two crosses of the same sides', async () => {
    const made = await taken();
    const { plan, a, dam, one } = made;
    const second = { cross: a, on: '2027-06-19', amount: 4 };
    const split = {
      days: [
        ...plan.days.map((each) => (each.cross === a ? { ...each, queens: 6 } : each)),
        { ...plan.days[0], on: '2027-06-19', queens: 4 },
      ],
      bars: [...plan.bars, { dam, day: '2027-06-01', larvae: 12, uses: [second] }],
      combs: [...plan.combs, { mother: one, day: '2027-05-04', combs: 1, uses: [second] }],
    };
    expect(codes(await tryTo(fresh.store, 'take-season-plan', split, on('2027-04-02')))).toEqual(['(kept)']);
    const crosses = await all((facts) => facts.find('cross'));
    expect(crosses.map(({ code, queens_wanted, inseminate_on }) => [code, queens_wanted, inseminate_on])).toEqual([
      ['A', 6, '2027-06-12'],
      ['B', 10, '2027-06-12'],
      ['A-2', 4, '2027-06-19'],
    ]);
    expect(await all((facts) => facts.find('planned_graft_use', { cross: crosses[2]?.id ?? a }))).toHaveLength(1);
  });

  it('is refused for a bar in the past, an unknown cross, and a cross that is being raised', async () => {
    const { plan, a, dam } = await taken();
    expect(codes(await tryTo(fresh.store, 'take-season-plan', plan, on('2027-05-01')))).toContain('planned-in-past');
    const nobody = { ...plan, days: [{ ...plan.days[0], cross: dam }] };
    expect(codes(await tryTo(fresh.store, 'take-season-plan', nobody, on('2027-04-02')))).toContain('unknown-record');
    const graft = { code: 'bar 1', day: '2027-04-02', cross: a };
    await does(
      fresh.store,
      'record-graft',
      { graft, ranges: [{ position_from: 1, position_to: 20, dam }] },
      past('2027-04-02'),
    );
    expect(codes(await tryTo(fresh.store, 'take-season-plan', plan, on('2027-04-03')))).toContain('cross-begun');
  });
});

describe('a cross with times of its own', () => {
  it('is planned, taken and told by them: its tasks are those of its own countback', async () => {
    const [dam, mother] = [await queen('26-014'), await queen('R-07')];
    const own = { profile: 'early-spring', larva_age_hours: 48, brood_celsius: 33.2, queens_wanted: 6 };
    const id = await cross('A', dam, mother, own);
    const span = { from_on: '2027-06-12', to_on: '2027-06-12' };
    await does(fresh.store, 'begin-season', { name: '2027', ...span }, on('2027-03-20'));
    const { wish } = await pageOn(day('2027-03-21'));
    if (wish === null) throw new Error('nothing to plan');
    expect(wish.crosses[0]?.profile).toMatchObject({ name: 'early-spring' });
    const plan = planToTake(await proposeSeason({ wish, seed: 1, milliseconds: 600 }), wish);
    const taking = await tryTo(fresh.store, 'take-season-plan', plan, on('2027-03-21'));
    expect(codes(taking)).toEqual(['(kept)']);
    const { answer } = await fresh.store.read('all', (facts) =>
      countback.gather({ cross: id, today: day('2027-03-21') }, facts),
    );
    if (answer === null || answer.wish === null) throw new Error('no countback');
    const counted = new Map<string, string>(countBack(answer.wish).map((task) => [task.key, task.from]));
    const tasks = (await all((facts) => facts.find('task', { cancelled: null }))).filter(({ key }) => counted.has(key));
    const isOfQueens = (key: string) => ['graft', 'starter', 'nucs-ready', 'cells-out', 'virgins-emerge'].includes(key);
    const queens = tasks.filter(({ key }) => isOfQueens(key));
    expect(queens).toHaveLength(5);
    expect(queens.map(({ key, span_from }) => [key, span_from])).toEqual(
      queens.map(({ key }) => [key, counted.get(key)]),
    );
    const [bar] = (await daysOn('2027-03-21')).raising.filter(({ side }) => side === 'queens');
    expect(bar?.life.out).toBe(counted.get('virgins-emerge'));
    const [shown] = (await daysOn('2027-03-21')).days;
    for (const { chance } of shown?.links ?? []) expect(chance).toBeGreaterThan(0.88);
  }, 30_000);
});

describe('a season planned again beside crosses that are being raised', () => {
  /** A is being raised (its comb hangs), B shares its bar and is planned again. */
  async function oneBegun() {
    const made = await taken();
    const comb = { code: 'D-1', mother: made.one, in_on: '2027-04-27', cross: made.a };
    await does(fresh.store, 'record-drone-comb', comb, past('2027-04-27'));
    return made;
  }

  it('takes what stands off everything that is scarce', async () => {
    const { b, dam, one } = await oneBegun();
    const { wish, crosses } = await pageOn(day('2027-04-28'));
    expect(crosses.map(({ code, state }) => [code, state])).toEqual([
      ['A', 'begun'],
      ['B', 'free'],
    ]);
    expect(wish?.crosses.map(({ cross: name }) => name)).toEqual([b]);
    // The bar serves A too: all its larvae stand. The second comb of A is still to come; the combs of B are planned again.
    expect(wish?.standing?.bars).toEqual([{ dam, day: '2027-05-25', larvae: 43, accepted: null, queens: 20 }]);
    expect(wish?.standing?.combs.map(({ mothers, day: hung, combs }) => [mothers, hung, combs])).toEqual([
      [[one], '2027-04-27', 1],
      [[one], '2027-04-27', 1],
    ]);
    expect(wish?.standing?.queens).toMatchObject([{ on: '2027-06-12', queens: 10, nucsFrom: '2027-06-06' }]);
  });

  it('counts combs of a line against the nest of its only queen, as long as she is the only one not gone', async () => {
    const { dam } = await taken();
    const line = await does(fresh.store, 'record-line', { name: 'Alder' });
    const sister = (code: string) =>
      does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-06-20', line } }, on('2027-03-20'));
    const only = await sister('L-1');
    const asked = { code: 'L', queens_wanted: 4, dose_ul: 8 };
    const sides = { dams: [dam], drone_sources: [{ line }] };
    await does(fresh.store, 'plan-cross', { cross: asked, ...sides }, on('2027-03-20'));
    expect((await pageOn()).wish?.nestOf).toEqual({ [line]: only });
    const second = await sister('L-2');
    expect((await pageOn()).wish?.nestOf).toEqual({});
    const died = { queen: second, kind: 'died', happened_on: '2027-03-25' };
    await does(fresh.store, 'record-fate', died, past('2027-03-25'));
    expect((await pageOn()).wish?.nestOf).toEqual({ [line]: only });
  });

  it('gives the day only what is left of it: never more than the operator can do', async () => {
    const { b } = await oneBegun();
    const [season] = await all((facts) => facts.find('season'));
    const set = { queens_per_operator: 14, from_on: '2027-06-12', to_on: '2027-06-12' };
    await does(fresh.store, 'change-season', { season: season?.id, set });
    const { wish } = await pageOn(day('2027-04-20'));
    if (wish === null) throw new Error('nothing to plan');
    const proposal = await proposeSeason({ wish, seed: 1, milliseconds: 800 });
    expect(proposal.days).toMatchObject([{ on: '2027-06-12', crosses: [{ cross: b, queens: 4 }] }]);
    expect(await explainShortfall(wish)).toEqual(['standing', 'queensPerDay']);
  });

  it('leaves a shared bar to the cross that is being raised', async () => {
    const { plan, a, b, dam } = await oneBegun();
    const bar = { dam, day: '2027-05-26', larvae: 26, uses: [{ cross: b, on: '2027-06-12', amount: 10 }] };
    const again = { days: [plan.days[1]], bars: [bar], combs: [plan.combs[1]] };
    expect(codes(await tryTo(fresh.store, 'take-season-plan', again, on('2027-04-27')))).toEqual(['(kept)']);
    const bars = await all((facts) => facts.find('planned_graft', { cancelled: null }));
    expect(bars.map(({ day: on, larvae }) => [on, larvae]).sort()).toEqual([
      ['2027-05-25', 43],
      ['2027-05-26', 26],
    ]);
    const uses = await all((facts) => facts.find('planned_graft_use'));
    expect(uses.map(({ planned_graft, cross: of }) => [bars.find(({ id }) => id === planned_graft)?.day, of])).toEqual([
      ['2027-05-25', a],
      ['2027-05-26', b],
    ]);
    expect((await openTasks('graft')).map(({ span_from }) => span_from).sort()).toEqual(['2027-05-25', '2027-05-26']);
  });

  it('counts a cross that is counted back by itself, and the nucs of queens done before', async () => {
    const { dam, one } = await taken();
    const c = await cross('C', dam, one, { inseminate_on: '2027-07-20', queens_wanted: 5 });
    const { wish } = await pageOn(day('2027-04-02'));
    // 20 July is no day of this season: C keeps its own bar, 8 + 12 days before, and its comb, 21 + 24 + 2 days before.
    expect(wish?.crosses.map(({ cross: name }) => name)).not.toContain(c);
    expect(wish?.standing?.bars).toEqual([{ dam, day: '2027-06-30', larvae: null, accepted: null, queens: 5 }]);
    expect(wish?.standing?.combs).toMatchObject([{ mothers: [one], day: '2027-06-03', combs: null }]);
    expect(wish?.standing?.queens).toMatchObject([{ on: '2027-07-20', queens: 5, nucsFrom: '2027-07-12' }]);
  });
});

describe('what happened', () => {
  it('is the planned bar: its tasks done, what follows moved, the other cross told too', async () => {
    const { dam } = await taken();
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    await does(
      fresh.store,
      'record-graft',
      { graft: { code: 'bar 1', day: '2027-05-26' }, ranges },
      past('2027-05-26'),
    );
    expect(await openTasks('graft')).toEqual([]);
    expect(await openTasks('virgins-emerge')).toMatchObject([{ span_from: '2027-06-07', sequence: 1 }]);
    const { raising } = await daysOn('2027-05-27');
    const bar = raising.find(({ side }) => side === 'queens');
    expect(bar).toMatchObject({ planned: '2027-05-25', actual: '2027-05-26', later: 1 });
    expect(bar?.moved.map(({ key, days }) => [key, days])).toEqual([
      ['nucs-ready', 1],
      ['cells-out', 1],
      ['virgins-emerge', 1],
    ]);
    expect(bar?.crosses.map(({ code }) => code)).toEqual(['A', 'B']);
  });

  it('is the planned bar of the cross it was grafted for, however late, and says how far off it was', async () => {
    const { dam, a, one } = await taken();
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    const graft = { code: 'bar 1', day: '2027-06-03', cross: a };
    const id = await does(fresh.store, 'record-graft', { graft, ranges }, past('2027-06-03'));
    const bar = (await daysOn('2027-06-03')).raising.filter(({ side }) => side === 'queens');
    expect(bar).toMatchObject([{ planned: '2027-05-25', actual: '2027-06-03', later: 9, overdue: false }]);
    expect(await openTasks('graft')).toEqual([]);
    expect(await openTasks('virgins-emerge')).toMatchObject([{ span_from: '2027-06-15' }]);
    const leaf = await answerOf(ask(barLeaf, { graft: id, today: day('2027-06-03') }, portsOver(fresh.store)));
    expect(leaf?.planned).toEqual(['2027-05-25']);
    // Naming one of the crosses that share it takes nothing from the other.
    expect(leaf?.crosses.map(({ code }) => code).sort()).toEqual(['A', 'B']);
    // A comb of no cross, hung in when its planned one is late, is that one.
    const comb = { code: 'D-1', mother: one, in_on: '2027-05-07' };
    const hung = await does(fresh.store, 'record-drone-comb', comb, past('2027-05-07'));
    const of = await answerOf(ask(combLeaf, { comb: hung, today: day('2027-05-07') }, portsOver(fresh.store)));
    expect(of?.planned).toBe('2027-04-27');
  });

  it('tells of each cross what is next, a shared bar among it, and that it is being raised', async () => {
    await taken();
    const lines = async (date: string) =>
      (await answerOf(ask(season, { today: day(date) }, portsOver(fresh.store)))).crosses.map(
        ({ code, stage, next }) => [code, stage, next?.key, next?.late],
      );
    expect(await lines('2027-04-28')).toEqual([
      ['A', 'planned', 'drone-comb-in', true],
      ['B', 'planned', 'drone-comb-in', true],
    ]);
    const hung = (await openTasks('drone-comb-in')).map(({ id }) => id);
    await tryTo(fresh.store, 'do-task', { tasks: hung, on: '2027-04-28' }, on('2027-04-28'));
    const [a, b] = await lines('2027-05-02');
    expect([a?.[1], b?.[1]]).toEqual(['raising', 'raising']);
  });

  it('leaves the planned bar of other crosses open when a graft names another cross', async () => {
    const { dam, one } = await taken();
    const c = await cross('C', dam, one, { inseminate_on: '2027-06-14' });
    const ranges = [{ position_from: 1, position_to: 12, dam }];
    const graft = { code: 'bar 1', day: '2027-05-25', cross: c };
    await does(fresh.store, 'record-graft', { graft, ranges }, past('2027-05-25'));
    expect(await all((facts) => facts.find('planned_graft'))).toMatchObject([{ day: '2027-05-25', graft: null }]);
    expect((await daysOn('2027-05-26')).days[0]?.overdue).toContainEqual({
      side: 'queens',
      mother: '26-014',
      planned: '2027-05-25',
    });
  });

  it('moves drones out of a comb laid two days late', async () => {
    const { one } = await taken();
    await does(fresh.store, 'record-drone-comb', { code: 'D-1', mother: one, in_on: '2027-04-27' }, past('2027-04-27'));
    const [comb] = await all((facts) => facts.find('drone_comb'));
    await does(
      fresh.store,
      'note-drone-comb',
      { comb: comb?.id, set: { laid_from: '2027-05-01', laid_to: '2027-05-07' } },
      past('2027-05-07'),
    );
    const { raising } = await daysOn('2027-05-08');
    const late = raising.find(({ record }) => record?.code === 'D-1');
    expect(late).toMatchObject({ later: 2, side: 'drones' });
    expect(late?.moved.map(({ key }) => key)).toEqual(['drone-brood-out', 'drones-emerge']);
  });

  it('counts queens from the day they came out: a day early, and those lost since are not there', async () => {
    const { dam } = await taken();
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    const graft = { code: 'bar 1', day: '2027-05-25' };
    const id = await does(fresh.store, 'record-graft', { graft, ranges }, past('2027-05-25'));
    const virgins = Array.from({ length: 24 }, (_, i) => ({ position: i + 1 }));
    await does(fresh.store, 'emerge-virgins', { graft: id, on: '2027-06-05', virgins }, past('2027-06-05'));
    const [first] = await all((facts) => facts.find('queen', { emerged: day('2027-06-05') }));
    await does(
      fresh.store,
      'record-fate',
      { queen: first?.id, kind: 'died', happened_on: '2027-06-06' },
      past('2027-06-06'),
    );
    const [shown] = (await daysOn('2027-06-07')).days;
    // 23 of 24 are left; 88 % of them sound and found on the day is 20.2.
    expect(shown?.links[0]?.expected).toBeCloseTo(23 * 0.88, 6);
    const bar = (await daysOn('2027-06-07')).raising.find(({ side }) => side === 'queens');
    expect(bar).toMatchObject({ emerged: 24, life: { out: '2027-06-05' }, was: { out: '2027-06-06' } });
    expect(await openTasks('virgins-emerge')).toEqual([]);
  });

  it('takes a bar or comb nobody wrote down as begun today, says so, and tells the chance if it was done', async () => {
    const made = await taken();
    const { dam } = made;
    const before = (await daysOn('2027-04-26')).days[0];
    expect(before).toMatchObject({ overdue: [], asPlanned: null });
    const late = await daysOn('2027-05-26');
    expect(late.days[0]?.overdue.map(({ side, planned }) => [side, planned])).toEqual([
      ['drones', '2027-04-27'],
      ['drones', '2027-04-27'],
      ['queens', '2027-05-25'],
    ]);
    // Combs hung in on 26 May: their drones emerge 21 June (2 days of lead, 24 of brood), nine days after the insemination.
    expect(late.days[0]?.chance).toBe(0);
    expect(late.days[0]?.asPlanned).toBeCloseTo(before?.chance ?? 0, 12);
    // The page of one cross says both as well, link by link.
    const { a } = made;
    const ofCross = (date: string) =>
      answerOf(ask(raisingChances, { cross: a, today: day(date), sure: 0.9 }, portsOver(fresh.store, computeHere)));
    const [timely, tardy] = [await ofCross('2027-04-26'), await ofCross('2027-05-26')];
    expect(timely?.ifDone).toBeNull();
    expect(tardy?.mothers[0]).toMatchObject({ chance: 0 });
    expect(tardy?.chance).toBe(0);
    expect(tardy?.ifDone?.mothers[0]?.chance).toBeCloseTo(timely?.mothers[0]?.chance ?? 0, 12);
    expect(tardy?.ifDone?.mothers[0]?.dots).toEqual(timely?.mothers[0]?.dots);
    expect(tardy?.ifDone?.queens.chance).toBeCloseTo(timely?.queens.chance ?? 0, 12);
    expect(tardy?.ifDone?.chance).toBeCloseTo(timely?.chance ?? 0, 12);
    const hung = (await openTasks('drone-comb-in')).map(({ id }) => id);
    expect(codes(await tryTo(fresh.store, 'do-task', { tasks: hung, on: '2027-04-27' }, on('2027-05-26')))).toEqual([
      '(kept)',
    ]);
    // Grafted on 26 May the queens are out on 7 June and five days old on the day, the youngest that can be used (standard text).
    const day1 = await daysOn('2027-05-26');
    expect(day1.days[0]?.overdue).toEqual([{ side: 'queens', mother: '26-014', planned: '2027-05-25' }]);
    expect(day1.days[0]?.chance).toBeGreaterThan(0);
    expect(day1.days[0]?.chance).toBeLessThan(day1.days[0]?.asPlanned ?? 0);
    expect(day1.raising.find(({ side }) => side === 'queens')).toMatchObject({
      overdue: true,
      planned: '2027-05-25',
      later: 1,
      life: { begun: '2027-05-26' },
      was: { begun: '2027-05-25' },
    });
    // Grafted on 30 May no queen is of age on 12 June, whoever is lucky: not silently done, and not lost if it was done.
    const day5 = (await daysOn('2027-05-30')).days[0];
    expect(day5?.links[0]?.expected).toBe(0);
    expect(day5?.asPlanned).toBeCloseTo(before?.chance ?? 0, 12);
    expect((await repairsOn('2027-05-30', '2027-06-12')).asPlanned).toBe(false);
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    const graft = { code: 'bar 1', day: '2027-05-25' };
    await does(fresh.store, 'record-graft', { graft, ranges }, past('2027-05-30'));
    expect((await daysOn('2027-05-30')).days[0]).toMatchObject({ overdue: [], asPlanned: null });
    expect((await daysOn('2027-05-30')).days[0]?.chance).toBeCloseTo(before?.chance ?? 0, 12);
  });

  it('puts a day in doubt when half a graft is lost; the cheapest repair is a second graft, and mends it as one act', async () => {
    const { dam } = await taken();
    const before = (await daysOn('2027-05-26')).days[0];
    expect(before).toMatchObject({ on: '2027-06-12', missing: [], wanted: 20 });
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    const id = await does(
      fresh.store,
      'record-graft',
      { graft: { code: 'bar 1', day: '2027-05-25' }, ranges },
      past('2027-05-25'),
    );
    const positions = Array.from({ length: 20 }, (_, i) => i + 1);
    await does(fresh.store, 'record-cells', { graft: id, what: 'accepted', positions }, past('2027-05-26'));
    const lost = (await daysOn('2027-05-26')).days[0];
    expect(lost?.chance).toBeLessThan(0.5);
    const { repairs } = await repairsOn('2027-05-26', '2027-06-12');
    const [first] = repairs;
    expect(first).toMatchObject({ kind: 'graft-more', dam });
    if (first?.kind !== 'graft-more') throw new Error('no graft offered');
    const { kind, larvae, day: graftOn } = first;
    const act = { on: '2027-06-12', repair: { kind, dam, larvae, day: graftOn } };
    expect(codes(await tryTo(fresh.store, 'repair-day', act, on('2027-05-26')))).toEqual(['(kept)']);
    const mended = (await daysOn('2027-05-26')).days[0];
    expect(mended?.links[0]?.chance).toBeGreaterThan(0.88);
    expect(mended?.wanted).toBe(20);
    expect(await openTasks('graft')).toMatchObject([{ span_from: graftOn }]);
    const last = (await fresh.store.acts({})).at(-1);
    await tryTo(fresh.store, 'step-back', { act: last?.id });
    expect((await daysOn('2027-05-26')).days[0]?.chance).toBeCloseTo(lost?.chance ?? 0, 12);
    expect(await openTasks('graft')).toEqual([]);
  });
});

describe('what trouble counts', () => {
  it('is the breeder’s to set, and decides which repair stands first', async () => {
    const { dam } = await taken();
    const ranges = [{ position_from: 1, position_to: 43, dam }];
    const graft = { code: 'bar 1', day: '2027-05-25' };
    const id = await does(fresh.store, 'record-graft', { graft, ranges }, past('2027-05-25'));
    const positions = Array.from({ length: 20 }, (_, i) => i + 1);
    await does(fresh.store, 'record-cells', { graft: id, what: 'accepted', positions }, past('2027-05-26'));
    const { repairs } = await repairsOn('2027-05-26', '2027-06-12');
    const [first] = repairs;
    if (first?.kind !== 'graft-more') throw new Error('no graft offered');
    expect(first.cost).toBeCloseTo(0.3 + 0.02 * first.larvae, 12);
    const [season] = await all((facts) => facts.find('season'));
    const set = { repair_graft: 20, repair_larva: 0.5, repair_queen: 0.1 };
    await does(fresh.store, 'change-season', { season: season?.id, set });
    const weighed = (await repairsOn('2027-05-26', '2027-06-12')).repairs;
    expect(weighed[0]).toMatchObject({ kind: 'fewer-queens' });
    if (weighed[0]?.kind !== 'fewer-queens') throw new Error('no fewer queens offered');
    expect(weighed[0].cost).toBeCloseTo(0.1 * (weighed[0].wanted - weighed[0].queens), 12);
    expect(weighed.find(({ kind }) => kind === 'graft-more')?.cost).toBeCloseTo(20 + 0.5 * first.larvae, 12);
    for (const field of ['repair_larva', 'visit_worth']) {
      const below = { season: season?.id, set: { [field]: -0.1 } };
      expect(codes(await tryTo(fresh.store, 'change-season', below))).toEqual(['not-zero-or-more']);
    }
  });
});

describe('mending and moving a day', () => {
  it('moves all its crosses, and bars and combs that are theirs alone', async () => {
    await taken();
    expect(
      codes(
        await tryTo(fresh.store, 'move-insemination-day', { on: '2027-06-12', to: '2027-06-13' }, on('2027-04-02')),
      ),
    ).toEqual(['(kept)']);
    expect(await openTasks('graft')).toMatchObject([{ span_from: '2027-05-26', sequence: 1 }]);
    expect(await openTasks('drone-comb-in')).toMatchObject([{ span_from: '2027-04-28' }, { span_from: '2027-04-28' }]);
    expect(await openTasks('inseminate')).toMatchObject([{ span_from: '2027-06-13' }, { span_from: '2027-06-13' }]);
    expect(codes(await tryTo(fresh.store, 'move-insemination-day', { on: '2027-06-12', to: '2027-06-13' }))).toEqual([
      'no-cross-on-day',
    ]);
  });

  it('by a repair leaves bars and combs where they are', async () => {
    await taken();
    const repair = { kind: 'move-day', to: '2027-06-14' };
    expect(codes(await tryTo(fresh.store, 'repair-day', { on: '2027-06-12', repair }, on('2027-04-02')))).toEqual([
      '(kept)',
    ]);
    expect(await openTasks('graft')).toMatchObject([{ span_from: '2027-05-25', sequence: 0 }]);
    expect(await openTasks('inseminate')).toMatchObject([{ span_from: '2027-06-14' }, { span_from: '2027-06-14' }]);
  });

  it('by other drones gives the combs that are for nobody any more up', async () => {
    const { one, other, a } = await taken();
    const repair = { kind: 'other-drones', instead: one, mother: other };
    expect(codes(await tryTo(fresh.store, 'repair-day', { on: '2027-06-12', repair }, on('2027-04-02')))).toEqual([
      '(kept)',
    ]);
    expect(await all((facts) => facts.find('cross_drone_source', { cross: a }))).toMatchObject([{ queen: other }]);
    expect(await openTasks('drone-comb-in')).toHaveLength(1);
  });

  it('by fewer queens shares them among its crosses', async () => {
    const { dam } = await taken();
    const repair = { kind: 'fewer-queens', dam, queens: 15 };
    await tryTo(fresh.store, 'repair-day', { on: '2027-06-12', repair }, on('2027-04-02'));
    const crosses = await all((facts) => facts.find('cross'));
    expect(crosses.map(({ queens_wanted }) => queens_wanted)).toEqual([8, 7]);
    expect(shareOut([10, 1], 5)).toEqual([4, 1]);
    expect(shareOut([3, 3, 3], 8)).toEqual([3, 3, 2]);
  });

  it('is refused for a queen who has no part in it, or for a graft in the past', async () => {
    const { one, dam } = await taken();
    const graft = (of: RecordId, date: string) => ({ kind: 'graft-more', dam: of, larvae: 10, day: date });
    const tried = (repair: object) => tryTo(fresh.store, 'repair-day', { on: '2027-06-12', repair }, on('2027-05-20'));
    expect(codes(await tried(graft(one, '2027-05-25')))).toEqual(['not-of-that-day']);
    expect(codes(await tried(graft(dam, '2027-05-19')))).toEqual(['planned-in-past']);
  });
});

describe('wishes and limits that cannot be', () => {
  it('are refused where they are written', async () => {
    const season = { name: '2027', from_on: '2027-06-10', to_on: '2027-06-30' };
    const begins = (more: object) => tryTo(fresh.store, 'begin-season', { ...season, ...more });
    expect(codes(await begins({ to_on: '2027-06-01' }))).toEqual(['season-backwards']);
    expect(codes(await begins({ to_on: '2028-06-01' }))).toEqual(['season-too-long']);
    expect(codes(await begins({ operators: 0, cells: 0 }))).toEqual(['limit-of-none', 'limit-of-none']);
    expect(codes(await begins({ sure: 1 }))).toEqual(['not-a-share']);
    expect(codes(await tryTo(fresh.store, 'take-days-off', { from_on: '2027-06-10', to_on: '2027-06-01' }))).toEqual([
      'days-off-backwards',
    ]);
  });

  it('zero queens and a latest day before the earliest are refused at the cross', async () => {
    const { a } = await taken();
    const set = (fields: object) => tryTo(fresh.store, 'change-cross', { cross: a, set: fields }, on('2027-04-02'));
    expect(codes(await set({ queens_wanted: 0 }))).toContain('no-queens');
    expect(codes(await set({ earliest_on: '2027-06-20', latest_on: '2027-06-15' }))).toContain('wishes-contradict');
    expect(codes(await set({ earliest_on: '2027-06-12', latest_on: '2027-06-15', worth: 2, keep_day: 1 }))).toEqual([
      '(kept)',
    ]);
  });

  it('a dead mother keeps her cross out of the wish, and is named', async () => {
    const { dam } = await taken();
    await does(fresh.store, 'record-fate', { queen: dam, kind: 'died', happened_on: '2027-04-02' }, past('2027-04-02'));
    const page = await pageOn(day('2027-04-03'));
    expect(page.crosses.map(({ problems }) => problems.map(({ code }) => code))).toEqual([['dam-gone'], ['dam-gone']]);
    expect(page.wish).toBeNull();
  });

  it('a season tells its wish: limits, operators times queens, days off one by one, kept days', async () => {
    const { a } = await taken();
    const [season] = await all((facts) => facts.find('season'));
    await does(fresh.store, 'change-season', {
      season: season?.id,
      set: { operators: 2, queens_per_operator: 15, one_yard: 1, sure: 0.8 },
    });
    await does(fresh.store, 'take-days-off', { from_on: '2027-06-19', to_on: '2027-06-21', why: 'away' });
    await tryTo(fresh.store, 'change-cross', { cross: a, set: { keep_day: 1 } }, on('2027-04-02'));
    const { wish } = await pageOn();
    expect(wish?.limits).toMatchObject({
      queensPerDay: 30,
      oneYardADay: true,
      blockedDays: ['2027-06-19', '2027-06-20', '2027-06-21'],
    });
    expect(wish).toMatchObject({ sure: 0.8, from: '2027-06-10', to: '2027-06-30', today });
    expect(wish?.crosses.find(({ cross: name }) => name === a)).toMatchObject({
      earliest: '2027-06-12',
      latest: '2027-06-12',
      queens: 10,
    });
  });
});

describe('a comb nobody gave to a cross', () => {
  /** A laid comb of R-07, cross A on 12 June, and cross B of the same drone mother on another day. */
  async function sharedWith(otherDay: string) {
    const [dam, second, one] = [await queen('26-014'), await queen('26-015'), await queen('R-07')];
    const a = await cross('A', dam, one, { inseminate_on: '2027-06-12' });
    await cross('B', second, one, { inseminate_on: otherDay });
    const comb = { code: 'D-1', mother: one, in_on: '2027-04-27' };
    await does(fresh.store, 'record-drone-comb', comb, past('2027-04-27'));
    const [laid] = await all((facts) => facts.find('drone_comb'));
    const set = { laid_from: '2027-05-01', laid_to: '2027-05-07', laid_cells: 900 };
    await does(fresh.store, 'note-drone-comb', { comb: laid?.id, set }, past('2027-05-07'));
    const asked = { cross: a, today: day('2027-05-08'), sure: 0.9 };
    const page = await answerOf(ask(raisingChances, asked, portsOver(fresh.store, computeHere)));
    const { days } = await daysOn('2027-05-08');
    const link = days.find(({ on: its }) => its === '2027-06-12')?.links.find(({ side }) => side === 'drones');
    return { ofPage: page?.mothers[0], ofSeason: link };
  }

  it('is wholly for the cross on whose day its drones are of age, and both pages say so alike', async () => {
    const { ofPage, ofSeason } = await sharedWith('2027-09-12');
    expect(ofPage?.chance).toBeGreaterThan(0.5);
    expect(ofSeason?.chance).toBeCloseTo(ofPage?.chance ?? -1, 12);
    expect(ofSeason?.dots).toEqual(ofPage?.dots);
  });

  it('is shared with a cross that needs it on a day of the same age, and both pages say so alike', async () => {
    const alone = await sharedWith('2027-09-12');
    await fresh.end();
    fresh = (await sqlite?.fresh()) ?? fresh;
    const { ofPage, ofSeason } = await sharedWith('2027-06-14');
    expect(ofSeason?.chance).toBeCloseTo(ofPage?.chance ?? -1, 12);
    expect(ofPage?.chance).toBeLessThan((alone.ofPage?.chance ?? 0) - 0.05);
  });
});
