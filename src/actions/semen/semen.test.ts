import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Row } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { asks, at } from '../../../tests/support/bench-station.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, tryTo } from '../../../tests/support/doing.ts';
import type { TubeLeaf } from '../../questions/semen/tube-story.ts';

let on: Fresh;
beforeEach(async () => {
  on = (await databases[0]?.fresh()) as Fresh;
});
afterEach(() => on.end());

const codes = (result: unknown) =>
  (
    (result as { problems?: { code: string }[]; warnings?: { code: string }[] }).problems ??
    (result as { warnings?: { code: string }[] }).warnings ??
    []
  ).map(({ code }) => code);

const rows = async <N extends 'ledger_line' | 'drone_catch' | 'worry' | 'tube' | 'parcel'>(
  kind: N,
): Promise<Row<N>[]> => (await on.store.read([kind], (facts) => facts.find(kind))).answer as Row<N>[];

const queen = (code: string, emerged = '2025-06-01') => does(on.store, 'record-queen', { queen: { code, emerged } });
const leaf = async (tube: RecordId): Promise<TubeLeaf> =>
  (await asks<{ leaf: TubeLeaf }>(on.store, 'tube-story', { tube })).leaf;
const tubeOf = async (code: string): Promise<RecordId> =>
  (await rows('tube')).find((row) => row.code === code)?.id as RecordId;

async function tallied(code: string, mother: RecordId, volume: number, more: object = {}) {
  await does(
    on.store,
    'tally-drones',
    { gave: volume, sources: [{ mother }], into: [{ new: { code }, start: 0, end: volume }], ...more },
    { happened: true, done: at('09:00') },
  );
  return tubeOf(code);
}

const step = (tube: RecordId, what: string, more: object = {}, clock = '10:00') =>
  does(on.store, 'step-tube', { tube, step: what, ...more }, { happened: true, done: at(clock) });

describe('a tally is one act', () => {
  test('catch, mothers, reasons, tubes and readings; one step back takes all of it', async () => {
    const m = await queen('M');
    const n = await queen('N');
    await does(
      on.store,
      'tally-drones',
      {
        taken: 40,
        left_over: 8,
        gave: 20,
        stranger_share: 0.1,
        sources: [{ mother: m, told_apart: 'blue dot' }, { mother: n }],
        reasons: [{ reason: 'mucus', count: 3 }],
        into: [
          { new: { code: 'C-1', bore_mm: 0.8 }, start: 0, end: 11, drones: 10, source: 0 },
          { new: { code: 'C-2' }, start: 2, end: 12, drones: 10, source: 1 },
        ],
      },
      { happened: true, done: at('09:00') },
    );
    const lines = await rows('ledger_line');
    // C-2 began with 2 µl the book did not know of: that is a reading of its own, not a part of what was collected.
    expect(lines.map(({ step: is, volume_ul, drones }) => [is, volume_ul, drones])).toEqual([
      ['collected', 11, 10],
      ['re-measured', 2, null],
      ['collected', 10, 10],
    ]);
    expect((await leaf(await tubeOf('C-1'))).mothers.map(({ name }) => name)).toEqual(['M']);
    const [act] = (await on.store.acts({ newest: 1 })).map(({ id }) => id);
    await does(on.store, 'step-back', { act });
    expect([await rows('ledger_line'), await rows('tube'), await rows('drone_catch')]).toEqual([[], [], []]);
  });

  test('more gave than were tried stops a form, and is kept with its doubt when it has happened', async () => {
    const m = await queen('M');
    const input = { taken: 10, left_over: 5, gave: 9, sources: [{ mother: m }], into: [] };
    expect(codes(await tryTo(on.store, 'tally-drones', input))).toEqual(['more-gave-than-tried']);
    expect(await rows('drone_catch')).toEqual([]);
    expect(codes(await tryTo(on.store, 'tally-drones', input, { happened: true }))).toEqual(['more-gave-than-tried']);
    expect((await rows('worry')).map(({ code }) => code)).toEqual(['more-gave-than-tried']);
  });

  test('a reading after below the one before is impossible, and named at its field', async () => {
    const m = await queen('M');
    const input = { gave: 1, sources: [{ mother: m }], into: [{ new: { code: 'C-1' }, start: 5, end: 3 }] };
    expect(await tryTo(on.store, 'tally-drones', input, { happened: true })).toMatchObject({
      problems: [{ path: 'into.0.end', code: 'end-below-start' }],
    });
  });

  test('odd record 17: drones caught 1 June, their mother superseded 20 April: asked who laid them', async () => {
    const m = await queen('M');
    const colony = await does(on.store, 'record-colony', { colony: { code: 'H1', form: 'drone-holder' } });
    await does(on.store, 'move-queen', { queen: m, colony, on: '2027-03-01' });
    await does(on.store, 'record-fate', { queen: m, kind: 'superseded', happened_on: '2027-04-20' });
    const k = await queen('K', '2027-04-18');
    await does(on.store, 'move-queen', { queen: k, colony, on: '2027-04-20' });
    const caught = (ages: object) =>
      tryTo(
        on.store,
        'tally-drones',
        { day: '2027-06-01', gave: 3, ...ages, sources: [{ colony }], into: [] },
        { happened: true },
      );
    // Laid catch − age − 24 days: 21-24 April by K, 14-18 April by M, 14-24 April by either.
    expect(codes(await caught({ age_from: 14, age_to: 17 }))).toEqual([]);
    expect(codes(await caught({ age_from: 14, age_to: 24 }))).toEqual(['which-mother-laid-them']);
    expect(codes(await caught({ age_from: 20, age_to: 24 }))).toEqual([]);
  });

  test('drones said to be of a queen dead since last summer are doubted', async () => {
    const m = await queen('M');
    await does(on.store, 'record-fate', { queen: m, kind: 'died', happened_on: '2026-08-01' });
    const input = { day: '2027-06-01', gave: 3, sources: [{ mother: m }], into: [] };
    expect(codes(await tryTo(on.store, 'tally-drones', input))).toEqual(['drones-long-after-their-mother']);
  });
});

describe('the ledger of a tube', () => {
  test('odd record 16: 60 µl and 600 µl buffer, wholly mixed, spun, 48 µl taken over, a loss is a line', async () => {
    const big = await tallied('V-1', await queen('M'), 60);
    await step(big, 'diluent', { microlitres: 600 }, '10:01');
    await step(big, 'homogenised', {}, '10:02');
    await step(big, 'spun-off', { microlitres: 600, semen: 0 }, '10:03');
    const small = await does(on.store, 'add-tube', { code: 'C-9' });
    await step(small, 'drawn-over', { from: big, microlitres: 48 }, '10:04');
    await step(big, 'lost', {}, '10:05');
    const story = await leaf(small);
    expect([story.left, story.mixing]).toEqual([48, 'homogenised']);
    expect(story.nextDoses).toHaveLength(6);
    expect((await leaf(big)).left).toBe(0);
    expect((await leaf(big)).lines.map(({ step: is }) => is)).toEqual([
      'collected',
      'diluent',
      'homogenised',
      'spun-off',
      'drawn-over',
      'lost',
    ]);
  });

  test('odd record 6: 17 of 34 µl sent away stay linked to whom', async () => {
    const tube = await tallied('C-07', await queen('M'), 34);
    const anna = await does(on.store, 'record-person', { name: 'Anna' });
    await step(tube, 'sent', { microlitres: 17, to: anna, end: 'other' });
    const [parcel] = await rows('parcel');
    expect(parcel).toMatchObject({ direction: 'sent', other: anna, what: 'C-07', day: '2027-06-12' });
    const story = await leaf(tube);
    expect([story.left, story.lines.at(-1)?.to, story.lines.at(-1)?.end]).toEqual([17, 'Anna', 'other']);
  });

  test('a line is corrected by a new line; the old one stays, and can be withdrawn', async () => {
    const tube = await tallied('C-07', await queen('M'), 34);
    await step(tube, 'lost', { microlitres: 4 });
    const lost = (await rows('ledger_line')).at(-1)?.id as RecordId;
    await does(on.store, 'correct-line', { line: lost, microlitres: 6 });
    let story = await leaf(tube);
    expect([story.left, story.lines.map(({ gone }) => gone)]).toEqual([28, [false, true, false]]);
    await does(on.store, 'correct-line', { line: lost, withdrawn: true });
    story = await leaf(tube);
    expect(story.left).toBe(34);
    expect(codes(await tryTo(on.store, 'correct-line', { line: lost, microlitres: 1 }))).toEqual(['line-withdrawn']);
  });

  test('a line is never edited', async () => {
    await tallied('C-07', await queen('M'), 34);
    const id = (await rows('ledger_line'))[0]?.id;
    const edit = { kind: 'ledger_line', id, set: { volume_ul: 1 } };
    expect(codes(await tryTo(on.store, 'correct', edit))).toEqual(['corrected-by-new-line']);
  });

  test('M then N in one unmixed tube: the first doses are of N, the last of M', async () => {
    const m = await queen('M');
    const n = await queen('N');
    const tube = await tallied('C-07', m, 16);
    const into = [{ tube, start: 16, end: 32 }];
    await does(
      on.store,
      'tally-drones',
      { gave: 16, sources: [{ mother: n }], into },
      { happened: true, done: at('09:30') },
    );
    const story = await leaf(tube);
    expect(story.nextDoses.map(({ mothers }) => mothers.map(({ name }) => name))).toEqual([['N'], ['N'], ['M'], ['M']]);
  });

  test('two tubes with one code while the first still holds semen: doubted; once it is empty, fine', async () => {
    const tube = await tallied('C-07', await queen('M'), 34);
    expect(codes(await tryTo(on.store, 'add-tube', { code: 'C-07' }))).toEqual(['tube-code-taken']);
    await step(tube, 'lost');
    expect(codes(await tryTo(on.store, 'add-tube', { code: 'C-07' }))).toEqual([]);
  });

  test('wrong steps are named: nothing to draw from, itself, no volume', async () => {
    const tube = await tallied('C-07', await queen('M'), 34);
    const at = (more: object) => tryTo(on.store, 'step-tube', { tube, ...more });
    expect(codes(await at({ step: 'drawn-over', microlitres: 3 }))).toEqual(['needed']);
    expect(codes(await at({ step: 'drawn-over', from: tube, microlitres: 3 }))).toEqual(['drawn-from-itself']);
    expect(codes(await at({ step: 'diluent' }))).toEqual(['needed']);
    expect(codes(await at({ step: 'lost', microlitres: -1 }))).toEqual(['too-small']);
  });

  test('semen received from another breeder comes as its sender describes it', async () => {
    const m = await queen('K-12');
    const id = await does(on.store, 'receive-semen', {
      tube: { code: 'X-1' },
      sources: [{ mother: m }],
      microlitres: 30,
      semen: 24,
      drones: 25,
      mixing: 'homogenised',
    });
    expect(await leaf(id)).toMatchObject({ left: 30, semen: 24, mixing: 'homogenised', diluted: true });
    expect(await leaf(id)).toMatchObject({ maybeOlder: true });
  });

  test('its age counts from the day its sender says, not from the day it came', async () => {
    const given = { tube: { code: 'X-2' }, sources: [{ mother: await queen('K-13') }], microlitres: 30 };
    const came = { happened: true, done: at('10:00') };
    const id = await does(on.store, 'receive-semen', { ...given, collected_on: '2027-05-20' }, came);
    const { since, maybeOlder } = await leaf(id);
    expect([since?.slice(0, 10), maybeOlder]).toEqual(['2027-05-20', false]);
    const later = await tryTo(on.store, 'receive-semen', { ...given, collected_on: '2027-06-30' }, came);
    expect(codes(later)).toEqual(['collected-after-it-came']);
    expect(codes(await tryTo(on.store, 'receive-semen', { ...given, semen: 31 }, came))).toEqual([
      'semen-above-volume',
    ]);
  });
});

test('drones counted into a tube nobody read: about 1 µl each (common practice) until it is measured, and a worry', async () => {
  const given = {
    gave: 6,
    sources: [{ mother: await queen('M') }],
    into: [{ new: { code: 'C-1' }, start: 0, drones: 6 }],
  };
  expect(codes(await tryTo(on.store, 'tally-drones', given, { happened: true, done: at('09:00') }))).toEqual([
    'volume-not-read',
  ]);
  const tube = await tubeOf('C-1');
  expect((await leaf(tube)).left).toBe(6);
  await step(tube, 're-measured', { microlitres: 5.5 });
  expect((await leaf(tube)).left).toBe(5.5);
});

test('what went in, what was given and what left another way add up to what is left', async () => {
  const tube = await tallied('C-1', await queen('M'), 30);
  const over = await does(on.store, 'add-tube', { code: 'C-2' });
  await step(tube, 'diluent', { microlitres: 5 }, '09:30');
  await step(over, 'drawn-over', { from: tube, microlitres: 12 }, '10:00');
  await step(tube, 'lost', { microlitres: 2 }, '10:10');
  await step(tube, 're-measured', { microlitres: 20.5 }, '10:20');
  expect((await leaf(tube)).sums).toEqual({ into: 35, given: 0, away: 14, read: -0.5 });
  expect((await leaf(over)).sums).toEqual({ into: 12, given: 0, away: 0, read: 0 });
});

test('the end a line went through is corrected: of two layers the other mother’s went out', async () => {
  const [m, n] = [await queen('M'), await queen('N')];
  const tube = await tallied('C-1', m, 10);
  const into = [{ tube, start: 10, end: 20 }];
  await does(
    on.store,
    'tally-drones',
    { gave: 10, sources: [{ mother: n }], into },
    { happened: true, done: at('09:30') },
  );
  const line = await step(tube, 'lost', { microlitres: 10, end: 'filled' });
  const mothers = async () => (await leaf(tube)).mothers.map(({ name }) => name);
  expect(await mothers()).toEqual(['M']);
  await does(on.store, 'correct-line', { line, end: 'other' });
  expect(await mothers()).toEqual(['N']);
});

describe('faeces', () => {
  test('condemn the tube, tubes drawn over from it since, and name every queen served since', async () => {
    const m = await queen('M');
    const tube = await tallied('C-07', m, 34);
    const into = [{ tube, start: 34, end: 36 }];
    const reasons = [{ reason: 'faeces', count: 1, into: 0 }];
    const soiled = await tryTo(
      on.store,
      'tally-drones',
      { gave: 2, sources: [{ mother: m }], reasons, into },
      { happened: true, done: at('10:00') },
    );
    expect(codes(soiled)).toEqual(['tube-soiled']);
    const over = await does(on.store, 'add-tube', { code: 'C-09' });
    await step(over, 'drawn-over', { from: tube, microlitres: 8 }, '10:30');
    expect([(await leaf(tube)).condemned, (await leaf(over)).condemned]).toEqual([true, true]);
  });
});

describe('the rack', () => {
  type Rack = { tubes: { code: string; left: number }[]; balances: { name: string; promised: number; free: number }[] };

  test('in the order to use, with what is promised and free of each mother', async () => {
    const m = await queen('M');
    await tallied('C-2', m, 30);
    await does(
      on.store,
      'tally-drones',
      { gave: 10, sources: [{ mother: m }], into: [{ new: { code: 'C-1' }, start: 0, end: 10 }] },
      { happened: true, done: at('11:00') },
    );
    const plan = { code: 'B', queens_wanted: 6, dose_ul: 8, inseminate_on: '2027-06-12' };
    await does(
      on.store,
      'plan-cross',
      { cross: plan, dams: [await queen('D')], drone_sources: [{ queen: m }], drones_there: true, virgins_there: true },
      { happened: true },
    );
    const oldest = await asks<Rack>(on.store, 'rack', {});
    expect(oldest.tubes.map(({ code }) => code)).toEqual(['C-2', 'C-1']);
    const least = await asks<Rack>(on.store, 'rack', { rule: 'least-left' });
    expect(least.tubes.map(({ code }) => code)).toEqual(['C-1', 'C-2']);
    expect(oldest.balances).toMatchObject([{ name: 'M', promised: 48, free: -8 }]);
  });
});
