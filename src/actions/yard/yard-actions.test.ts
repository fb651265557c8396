import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { livingState } from '#domain/living/living-state.ts';
import { gatherLiving, livingReads } from '#gather/living.ts';
import type { KindName, Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, tryTo } from '../../../tests/support/doing.ts';
import { after, at, type Twelve, twelveInseminated } from '../../../tests/support/inseminated.ts';

let on: Fresh;
let the: Twelve;
const happened = { happened: true };

beforeEach(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  the = await twelveInseminated(on.store);
});
afterEach(() => on.end());

const all = async <N extends KindName>(kind: N, where: object = {}): Promise<Row<N>[]> =>
  (await on.store.read([kind], (facts) => facts.find(kind, where))).answer;
const task = async (key: string) => (await all('task', { key }))[0];
const nth = <T>(list: readonly T[], n: number): T => list[n] as T;

/** Nucs N-0n look so on a day. */
async function look(n: number, sights: string[], days: number, more: object = {}) {
  const input = { colony: nth(the.nucs, n - 1), sights, day: after(days), ...more };
  return tryTo(on.store, 'check-laying', input, { ...happened, done: at(after(days)) });
}

test('one act for thirty queens in a nursing box: the dead are picked by cage number', async () => {
  const queens: RecordId[] = [];
  for (let n = 1; n <= 30; n++) queens.push(await does(on.store, 'record-queen', { queen: { code: `n-${n}` } }));
  const care = await does(on.store, 'nurse-queens', {
    care: { form: 'box', care_from: after(0), attendants_ml: 60, temperature_c: 34.5 },
    queens: queens.map((queen, n) => ({ queen, cage_number: String(n + 1) })),
  });
  const before = (await on.store.acts({})).length;
  await tryTo(on.store, 'found-dead', { care, cages: ['7', '19'], day: after(2) }, happened);
  expect((await on.store.acts({})).length).toBe(before + 1);
  expect((await all('care_queen', { care, found_dead: 1 })).map(({ queen }) => queen).sort()).toEqual(
    [nth(queens, 6), nth(queens, 18)].sort(),
  );
  const fates = await all('fate');
  expect(fates.map(({ kind, happened_on, happened_latest }) => [kind, happened_on, happened_latest])).toEqual([
    ['died', after(0), after(2)],
    ['died', after(0), after(2)],
  ]);
  expect(await tryTo(on.store, 'found-dead', { care, cages: ['31'] })).toMatchObject({
    problems: [{ code: 'no-such-cage-here', values: { cage: '31' } }],
  });
});

test('letting out ends the nursing, begins her stay in her nuc, and does the task with the last queen', async () => {
  const care = await does(on.store, 'nurse-queens', {
    care: { form: 'cage', care_from: after(0), attendants_ml: 60 },
    queens: the.queens.map((queen, n) => ({ queen, cage_number: String(n + 1) })),
  });
  const home = the.queens.map((queen, n) => ({ queen, colony: nth(the.nucs, n) }));
  await tryTo(on.store, 'release-queens', { care, home: home.slice(0, 10), day: after(2), excluder: true }, happened);
  expect((await all('care', { id: care }))[0]?.care_to).toBeNull();
  expect((await task('release'))?.done_on).toBeNull();
  const released = await tryTo(
    on.store,
    'release-queens',
    { care, home: home.slice(11), dead: [nth(the.queens, 10)], day: after(2) },
    happened,
  );
  expect(released).toMatchObject({ warnings: [] });
  expect((await all('care', { id: care }))[0]?.care_to).toBe(after(2));
  expect((await task('release'))?.done_on).toBe(after(2));
  const open = await all('stay', { queen: nth(the.queens, 0), to_latest: null });
  expect(open.map(({ colony, from_latest }) => [colony, from_latest])).toEqual([[nth(the.nucs, 0), after(2)]]);
  expect((await all('introduction', { excluder: 1 })).length).toBe(10);
});

test('a queen let into another nuc than the one she left is said; one that has a queen is doubted', async () => {
  const [a, b] = the.nucs as [RecordId, RecordId];
  const care = await does(on.store, 'nurse-queens', {
    care: { form: 'cage', care_from: after(0) },
    queens: [{ queen: nth(the.queens, 0), cage_number: '1' }],
  });
  const wrong = { care, home: [{ queen: nth(the.queens, 0), colony: b }], day: after(2) };
  expect(await tryTo(on.store, 'release-queens', wrong)).toMatchObject({
    problems: [
      { code: 'colony-has-a-queen', weight: 'doubt', values: { code: '27-002' } },
      { code: 'not-the-nuc-she-left', weight: 'warn', values: { code: 'N-01' } },
    ],
  });
  await tryTo(on.store, 'release-queens', wrong, happened);
  expect((await all('worry')).map(({ code }) => code)).toContain('colony-has-a-queen');
  expect((await all('stay', { colony: a, to_latest: null })).length).toBe(0);
});

test('eggs before the second day ask whether it is the same queen; when her disc was seen it is only said', async () => {
  const early = await tryTo(on.store, 'check-laying', { colony: nth(the.nucs, 0), sights: ['eggs'], day: after(1) });
  expect(early).toMatchObject({ problems: [{ code: 'eggs-too-early', weight: 'doubt', values: { days: 1 } }] });
  await look(1, ['eggs'], 1);
  expect((await all('worry')).map(({ code }) => code)).toEqual(['eggs-too-early']);
  const seen = await look(2, ['eggs'], 1, { queen_seen: 'seen' });
  expect(seen).toMatchObject({ warnings: [{ code: 'eggs-too-early', weight: 'warn' }] });
  expect((await all('worry')).length).toBe(1);
});

test('first eggs move the later checks; the last queen without eggs keeps the looks for eggs', async () => {
  for (let n = 1; n <= 11; n++) await look(n, ['eggs'], 7);
  await look(12, ['no-eggs'], 7);
  expect(await task('egg-check')).toMatchObject({ done_on: after(7), day: after(7) });
  expect(await task('egg-check-2')).toMatchObject({ cancelled: null, done_on: null });
  // Drones are sealed on day 10, so both caps can be told from eggs + 11 (stage tables, domain/rearing/standard-text.ts).
  expect(await task('brood-check')).toMatchObject({ span_from: after(18), span_to: after(21), sequence: 1 });
  expect(await task('excluder-off')).toMatchObject({ span_from: after(7), span_to: after(14) });
  await look(12, ['eggs'], 10);
  expect(await task('egg-check-2')).toMatchObject({ done_on: after(10) });
  expect(await task('egg-check-3')).toMatchObject({ cancelled: 1 });
  expect(await task('brood-check')).toMatchObject({ span_from: after(18), span_to: after(21) });
  expect(await task('own-workers')).toMatchObject({ span_from: after(28), span_to: after(31) });
});

test('drone caps after eggs are a failure, to be confirmed', async () => {
  await look(1, ['eggs'], 7);
  const drones = await look(1, ['drone-caps'], 21);
  expect(drones).toMatchObject({ warnings: [{ code: 'drone-layer-to-confirm', weight: 'doubt' }] });
  expect((await all('worry')).map(({ code, about }) => [code, about])).toEqual([
    ['drone-layer-to-confirm', nth(the.queens, 0)],
  ]);
});

test('another queen found: her stay ends in a span, the new one is a probable daughter, mated by herself (odd record 4)', async () => {
  const queen = await does(on.store, 'record-queen', {
    queen: { code: '25-020', emerged: '2025-06-01' },
    mark: { colour: 'blue', disc: 20 },
  });
  const colony = await does(on.store, 'record-colony', { colony: { code: 'H-4', form: 'full' }, yard: the.yard });
  await does(on.store, 'introduce-queen', { queen, colony, day: '2025-07-01', accepted: true } as never).catch(
    () => null,
  );
  const seen = { colony, sights: ['eggs'], queen_seen: 'seen', day: '2026-08-12' };
  await tryTo(on.store, 'check-laying', seen, { ...happened, done: at('2026-08-12' as never) });
  const found = {
    colony,
    sights: ['another-queen'],
    queen_seen: 'unmarked',
    day: '2027-04-03',
    another: { colour: 'none' },
  };
  await tryTo(on.store, 'check-laying', found, { ...happened, done: at('2027-04-03' as never) });
  const stays = await all('stay', { colony });
  expect(stays.map(({ queen: who, to_earliest, to_latest }) => [who === queen, to_earliest, to_latest])).toEqual([
    [true, '2026-08-12', '2027-04-03'],
    [false, null, null],
  ]);
  const daughter = (await all('queen', { dam: queen }))[0];
  expect(daughter).toMatchObject({ dam_sure: 'guessed', origin: 'found', code: null });
  expect((await all('natural_mating')).map((row) => row.queen)).toEqual([daughter?.id]);
  const { answer: state } = await on.store.read(livingReads, async (facts) =>
    livingState((await gatherLiving(facts)).of(queen), '2027-05-01' as never),
  );
  expect(state).toMatchObject({ state: 'gone', end: { kind: 'superseded', derived: true } });
});

test('queen gone ends her stay between her last proof and the look', async () => {
  await look(3, ['eggs'], 7);
  await look(3, ['queen-gone'], 14);
  const stay = (await all('stay', { queen: nth(the.queens, 2) })).at(-1);
  expect([stay?.to_earliest, stay?.to_latest]).toEqual([after(7), after(14)]);
});

test('a paper round is one act: what was usual, and the nucs where it was otherwise', async () => {
  const before = (await on.store.acts({})).length;
  const done = await tryTo(
    on.store,
    'enter-round',
    {
      day: after(7),
      colonies: the.nucs,
      usual: ['eggs'],
      otherwise: [
        { colony: nth(the.nucs, 4), sights: ['no-eggs'] },
        { colony: nth(the.nucs, 8), sights: ['queen-gone'] },
      ],
    },
    happened,
  );
  expect(done).toMatchObject({ result: { checks: { length: 12 } } });
  expect((await on.store.acts({})).length).toBe(before + 1);
  const saw = (await all('laying_sight')).map((row) => row.saw).sort();
  expect(saw).toEqual([...Array(10).fill('eggs'), 'no-eggs', 'queen-gone']);
  expect(await task('egg-check')).toMatchObject({ done_on: after(7) });
});

test('a look at nothing, at nobody, or with more gaps than cells is refused; one that contradicts itself is doubted', async () => {
  const colony = nth(the.nucs, 0);
  const refused = async (input: object) => tryTo(on.store, 'check-laying', input, happened);
  expect(await refused({ sights: ['eggs'] })).toMatchObject({ problems: [{ code: 'nobody-looked-at' }] });
  expect(await refused({ colony })).toMatchObject({ problems: [{ code: 'nothing-seen' }] });
  expect(await refused({ colony, sights: ['worker-caps'], cells_looked: 100, gaps: 101 })).toMatchObject({
    problems: [{ code: 'more-gaps-than-cells' }],
  });
  expect(await refused({ colony, sights: ['worker-caps', 'no-eggs'] })).toMatchObject({
    warnings: [{ code: 'sights-disagree', weight: 'doubt' }],
  });
});

test('an introduction not accepted ends her stay; found dead it is her fate', async () => {
  const [row] = await (async () => {
    await does(on.store, 'end-colony', { colony: nth(the.nucs, 11), how: 'dissolved', on: after(0) });
    const colony = await does(on.store, 'record-colony', { colony: { code: 'H-9', form: 'full' }, yard: the.yard });
    await tryTo(on.store, 'introduce-queen', { queen: nth(the.queens, 11), colony, day: after(20), method: 'push-in' });
    return all('introduction', { colony });
  })();
  expect(row).toMatchObject({ accepted: null, method: 'push-in' });
  await does(on.store, 'settle-introduction', { introduction: row?.id, accepted: false, dead: true, day: after(27) });
  expect((await all('fate')).map(({ kind, happened_on }) => [kind, happened_on])).toEqual([['not-taken', after(27)]]);
  expect((await all('stay', { queen: nth(the.queens, 11), to_latest: null })).length).toBe(0);
});

test('colonies are moved, walked in order, united and split', async () => {
  const [a, b, c] = the.nucs as [RecordId, RecordId, RecordId];
  const other = await does(on.store, 'record-yard', { name: 'Mill' });
  await does(on.store, 'move-colony', { colony: a, yard: other, spot: 1, on: after(3) });
  expect((await all('colony_place', { colony: a })).map(({ yard, stood_to }) => [yard === other, stood_to])).toEqual([
    [false, after(3)],
    [true, null],
  ]);
  await does(on.store, 'order-yard', { yard: the.yard, colonies: [c, b] });
  expect((await all('colony_place', { colony: c }))[0]?.spot).toBe(1);
  await does(on.store, 'unite-colonies', { from: b, into: c, queen: nth(the.queens, 1), on: after(4) });
  expect((await all('colony', { id: b }))[0]).toMatchObject({ ended: after(4), ended_how: 'united', united_into: c });
  const heads = await all('stay', { colony: c, to_latest: null });
  expect(heads.map(({ queen }) => queen)).toEqual([nth(the.queens, 1)]);
  expect(await tryTo(on.store, 'move-colony', { colony: b, yard: other })).toMatchObject({
    problems: [{ code: 'colony-has-ended' }],
  });
  const made = await does(on.store, 'split-colony', {
    from: c,
    colony: { code: 'S-1', form: 'nuc' },
    queen_goes: true,
    on: after(9),
  });
  expect((await all('stay', { colony: made })).map(({ queen }) => queen)).toEqual([nth(the.queens, 1)]);
});

test('a score card is one act, with a line on whether it is the same queen', async () => {
  const colony = nth(the.nucs, 0);
  await tryTo(on.store, 'score-colony', {
    colony,
    day: after(60),
    queen_seen: 'seen',
    readings: [
      { trait: 'gentleness', value: 3.5 },
      { trait: 'calmness', value: 4 },
    ],
  });
  expect((await all('score', { colony })).map(({ trait, value }) => [trait, value])).toEqual([
    ['gentleness', 3.5],
    ['calmness', 4],
  ]);
  expect((await all('laying_check', { colony }))[0]).toMatchObject({ queen_seen: 'seen', queen: nth(the.queens, 0) });
});

describe('score cards beside plain values', () => {
  const card = (readings: object[], more: object = {}) =>
    tryTo(on.store, 'score-colony', { colony: nth(the.nucs, 0), day: after(60), readings, ...more });

  test('counts become the value of the trait; the counts stay', async () => {
    await card([{ trait: 'mites', method: 'wash', counted: 6, among: 300 }]);
    expect((await all('score'))[0]).toMatchObject({ value: 2, counted: 6, among: 300, method: 'wash' });
  });
  test('not judged has a reason and no value', async () => {
    await card([{ trait: 'calmness', not_judged: 'too-weak' }]);
    expect((await all('score'))[0]).toMatchObject({ value: null, not_judged: 'too-weak' });
    expect(await card([{ trait: 'calmness', not_judged: 'too-weak', value: 3 }])).toMatchObject({
      problems: [{ code: 'score-judged-and-not' }],
    });
    expect(await card([{ trait: 'calmness' }])).toMatchObject({ problems: [{ code: 'score-nothing-read' }] });
  });
  test('off the scale is refused at its field; few bees are only said', async () => {
    expect(await card([{ trait: 'gentleness', value: 5 }])).toMatchObject({
      problems: [{ code: 'score-off-scale', path: 'readings.0.value' }],
    });
    expect(await card([{ trait: 'mites', counted: 6, among: 100 }])).toMatchObject({
      warnings: [{ code: 'score-few-bees', weight: 'warn' }],
    });
  });
  test('a brood test is begun one day and counted the next, once', async () => {
    await card([{ trait: 'hygiene', method: 'pin', among: 50, empty_before: 2 }]);
    const score = (await all('score'))[0]?.id;
    expect((await all('score'))[0]).toMatchObject({ value: null, not_judged: null });
    const count = (counted: number, days = 61) => tryTo(on.store, 'read-test', { score, counted, day: after(days) });
    expect(await count(40, 59)).toMatchObject({ problems: [{ code: 'score-before-begun' }] });
    expect(await count(60)).toMatchObject({ problems: [{ code: 'score-more-than-cells' }] });
    expect(await count(42)).toMatchObject({ result: { value: 0.8 } });
    expect((await all('score'))[0]).toMatchObject({ value: 0.8, span_from: after(60), day: after(61) });
    expect(await count(42)).toMatchObject({ problems: [{ code: 'score-read-already' }] });
  });
  test('a person judges whose it is, and the rule comes back', async () => {
    await card([{ trait: 'gentleness', value: 3 }]);
    const score = (await all('score'))[0]?.id;
    await tryTo(on.store, 'judge-reading', { score, hers: 'not' });
    expect((await all('score'))[0]).toMatchObject({ judged_hers: 'not' });
    await tryTo(on.store, 'judge-reading', { score, hers: null });
    expect((await all('score'))[0]).toMatchObject({ judged_hers: null });
  });
});
