import { beforeEach, describe, expect, it } from 'vitest';
import { computeHere } from '#compute/here.ts';
import type { Done, Refused } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { countback } from '#questions/rearing/countback.ts';
import { profilesQuestion } from '#questions/rearing/profiles.ts';
import type { Day } from '#units/calendar-day.ts';
import { databases, type Fresh } from '../../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../../tests/support/doing.ts';

let fresh: Fresh;
const sqlite = databases[0];
beforeEach(async () => {
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const codes = (done: Done | Refused) => ('problems' in done ? done.problems.map(({ code }) => code) : ['(kept)']);
const tries = async (name: string, input: object) => codes(await tryTo(fresh.store, name, input));
const make = (name: string, based_on = 'standard-text') => does(fresh.store, 'keep-profile', { name, based_on });
async function profiles(profile?: string) {
  const input = { today: '2027-06-20' as Day, ...(profile === undefined ? {} : { profile }) };
  const answered = await ask(profilesQuestion, input, { ...portsOver(fresh.store), compute: computeHere });
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer;
}
const dayOf = async (key: string) =>
  (await fresh.store.read('all', (facts) => facts.find('task', { key }))).answer[0]?.day;

async function planned(more: object = {}) {
  const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
  const cross = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12', ...more };
  const sides = { dams: [await queen('26-014')], drone_sources: [{ queen: await queen('R-07') }] };
  const done = { done: '2027-04-01T10:00:00.000+02:00[Europe/Berlin]' } as never;
  return does(fresh.store, 'plan-cross', { cross, ...sides }, done);
}

describe('a set of times and losses of one’s own', () => {
  it('keeps every figure of its base but those it sets, with their range and source', async () => {
    const id = await make('Hill yard', 'common-practice');
    const figure = { figure: 'survivals.accepted', value: 0.7, low: 0.5, high: 0.85, source: 'counts of 2026' };
    await does(fresh.store, 'set-figures', { profile: id, figures: [figure] });
    const { chosen } = await profiles('Hill yard');
    expect(chosen.profile.survivals.accepted).toMatchObject({
      value: 0.7,
      low: 0.5,
      high: 0.85,
      source: 'counts of 2026',
    });
    expect(chosen.profile.survivals.yielding.value).toBe(0.5);
    expect(chosen).toMatchObject({ own: ['survivals.accepted'], base: { name: 'common-practice' } });
    await does(fresh.store, 'set-figures', { profile: id, back: ['survivals.accepted'] });
    expect((await profiles('Hill yard')).chosen.profile.survivals.accepted.value).toBe(0.8);
  });

  it('refuses what cannot be meant, at the figure, and windows that go backwards', async () => {
    const id = await make('Hill yard');
    const set = (figure: object) => tries('set-figures', { profile: id, figures: [figure] });
    expect(await set({ figure: 'timings.graftToEmergence', value: 9 })).toEqual(['figure-out-of-bounds']);
    expect(await set({ figure: 'timings.graftToEmergence', value: 11.5 })).toEqual(['figure-not-whole']);
    expect(await set({ figure: 'survivals.accepted', value: 0.8, low: 0.9, high: 0.95 })).toEqual([
      'figure-range-backwards',
    ]);
    expect(await set({ figure: 'survivals.luck', value: 1 })).toEqual(['unknown-figure']);
    expect(await set({ figure: 'queens.hard.from', value: 12 })).toEqual(['window-backwards']);
    expect(await set({ figure: 'usual.queenAge', value: 20 })).toEqual(['usual-outside-window']);
  });

  it('has a name of its own', async () => {
    await make('Hill yard');
    expect(await tries('keep-profile', { name: 'hill YARD' })).toEqual(['profile-name-taken']);
    expect(await tries('keep-profile', { name: 'Standard text' })).toEqual(['profile-name-taken']);
  });

  it('is what the days of a cross that names it are counted by', async () => {
    const id = await make('Cold house');
    await does(fresh.store, 'set-figures', {
      profile: id,
      figures: [{ figure: 'timings.combLead', value: 6, low: 3, high: 7 }],
    });
    await planned({ profile: 'Cold house' });
    expect(await dayOf('drone-comb-in')).toBe('2027-04-22');
  });

  it('holds for every cross that names none once it is the usual one, is followed when renamed, and cannot go then', async () => {
    const id = await make('Cold house');
    await does(fresh.store, 'keep-profile', { profile: id, name: 'Cold house', brood_celsius: 33.25 });
    expect(await tries('choose-usual-profile', { profile: 'Warm house' })).toEqual(['unknown-profile']);
    expect(await tries('choose-usual-profile', { profile: 'cold house' })).toEqual(['unknown-profile']);
    await tryTo(fresh.store, 'choose-usual-profile', { profile: 'Cold house' });
    await planned();
    // 1.25 °C cooler: a day longer in the cell, so a day earlier.
    expect(await dayOf('graft')).toBe('2027-05-22');
    await does(fresh.store, 'keep-profile', { profile: id, name: 'Cellar' });
    expect((await profiles()).usual).toBe('Cellar');
    expect(await tries('drop-profile', { profile: id })).toEqual(['profile-is-usual']);
    await tryTo(fresh.store, 'choose-usual-profile', { profile: 'standard-text' });
    expect(await tries('drop-profile', { profile: id })).toEqual(['(kept)']);
  });

  it('tells a cross counted before it that its tasks stand by other times, until it is counted again', async () => {
    const cross = await planned();
    const staleOn = async () => {
      const answered = await ask(countback, { cross, today: '2027-04-02' as Day }, portsOver(fresh.store, computeHere));
      if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
      return answered.answer?.stale;
    };
    expect(await staleOn()).toBe(false);
    const id = await make('Cold house');
    await does(fresh.store, 'set-figures', {
      profile: id,
      figures: [{ figure: 'timings.combLead', value: 5, low: 3, high: 7 }],
    });
    await tryTo(fresh.store, 'choose-usual-profile', { profile: 'Cold house' });
    expect(await staleOn()).toBe(true);
    expect(await dayOf('drone-comb-in')).toBe('2027-04-26');
    const on = { done: '2027-04-02T10:00:00.000+02:00[Europe/Berlin]' } as never;
    await does(fresh.store, 'count-back', { cross, drones_there: true, virgins_there: true }, on);
    expect(await staleOn()).toBe(false);
    expect(await dayOf('drone-comb-in')).toBe('2027-04-23');
  });

  it('stays while a cross names it', async () => {
    const id = await make('Cold house');
    await planned({ profile: 'Cold house' });
    expect(await tries('drop-profile', { profile: id })).toEqual(['profile-in-use']);
  });
});

describe('what one’s own records say', () => {
  it('counts bars, cells, combs and catches beside the published figures', async () => {
    const dam = await does(fresh.store, 'record-queen', { queen: { code: '26-014', emerged: '2026-08-20' } });
    const mother = await does(fresh.store, 'record-queen', { queen: { code: 'R-07', emerged: '2026-08-20' } });
    const at = (day: string) => ({ done: `${day}T10:00:00.000+02:00[Europe/Berlin]` }) as never;
    const ranges = [{ position_from: 1, position_to: 20, dam }];
    const graft = { code: 'bar 1', day: '2027-05-23' };
    const bar = await does(fresh.store, 'record-graft', { graft, ranges }, at('2027-05-23'));
    const positions = (n: number) => Array.from({ length: n }, (_, i) => i + 1);
    await tryTo(
      fresh.store,
      'record-cells',
      { graft: bar, what: 'accepted', positions: positions(14), on: '2027-05-25' },
      at('2027-05-25'),
    );
    await tryTo(
      fresh.store,
      'emerge-virgins',
      { graft: bar, virgins: positions(12).map((position) => ({ position })), on: '2027-06-04' },
      at('2027-06-04'),
    );
    const comb = { code: 'D-1', mother, in_on: '2027-04-26', laid_from: '2027-04-29', laid_to: '2027-05-03' };
    const counts = {
      laid_cells: 2000,
      emerged_count: 1500,
      emerged_from: '2027-05-22',
      alive_count: 750,
      alive_on: '2027-06-05',
    };
    await does(fresh.store, 'record-drone-comb', { ...comb, ...counts }, at('2027-06-05'));
    const { learned } = await profiles();
    const by = new Map(learned.map((each) => [each.key, each]));
    expect(by.get('survivals.accepted')).toMatchObject({ batches: 1, counted: { successes: 14, trials: 20 } });
    expect(by.get('survivals.emergedQueens')?.counted).toEqual({ successes: 12, trials: 14 });
    expect(by.get('survivals.emergedDrones')?.counted).toEqual({ successes: 1500, trials: 2000 });
    // Half alive on day 14: 750 of 1500.
    expect(by.get('survivals.dronesAtFourteen')?.counted).toEqual({ successes: 750, trials: 1500 });
    expect(by.get('timings.graftToEmergence')).toMatchObject({ batches: 12, figure: { value: 12, low: 12, high: 12 } });
    // One bar moves the published 80 % only a little, and never counts alone.
    const { figure } = by.get('survivals.accepted') ?? {};
    expect(figure?.value).toBeGreaterThan(0.7);
    expect(figure?.value).toBeLessThan(0.8);
    expect(figure?.basis).toBe('own records');
    // One comb says nothing of the days it takes.
    expect(by.has('timings.combLead')).toBe(false);
  });

  it('says nothing in an empty book', async () => {
    expect((await profiles()).learned).toEqual([]);
  });
});
