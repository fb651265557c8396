import { mkdirSync, writeFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import { seasonWall } from '#questions/rearing/season-wall.ts';
import type { Day } from '#units/calendar-day.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { canReadPdf, codesIn, picturesOf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import { papers } from '../registry.ts';
import { tagAt, tagGrid } from './tag-grid.ts';

const at = (day: string) => ({ done: `${day}T10:00:00.000+02:00[Europe/Berlin]`, happened: true }) as never;

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

/** A season of three crosses: two with bars and combs of their own, one only planned. */
async function season() {
  const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
  const [dam, other, mother] = [await queen('26-014'), await queen('26-020'), await queen('R-07')];
  const plan = (code: string, day: string, dams: string[]) =>
    does(
      fresh.store,
      'plan-cross',
      { cross: { code, queens_wanted: 12, dose_ul: 8, inseminate_on: day }, dams, drone_sources: [{ queen: mother }] },
      at('2027-04-20'),
    );
  const crosses = [
    await plan('A', '2027-06-05', [dam]),
    await plan('B', '2027-06-12', [dam, other]),
    await plan('C', '2027-07-10', [other]),
  ];
  const ranges = [
    { position_from: 1, position_to: 10, dam },
    { position_from: 11, position_to: 20, dam: other },
  ];
  const graft = { code: 'bar 3', day: '2027-05-23', cross: crosses[1] };
  const bar = await does(fresh.store, 'record-graft', { graft, ranges }, at('2027-05-23'));
  const accepted = { graft: bar, what: 'accepted', positions: Array.from({ length: 16 }, (_, i) => i + 1) };
  await tryTo(fresh.store, 'record-cells', accepted, at('2027-05-25'));
  const comb = {
    code: 'R-07 a',
    mother,
    cross: crosses[1],
    in_on: '2027-04-26',
    laid_from: '2027-04-28',
    laid_to: '2027-05-02',
  };
  const comb_id = await does(fresh.store, 'record-drone-comb', comb, at('2027-05-02'));
  return { bar, comb: comb_id };
}

async function drawn(name: string, input: object): Promise<Uint8Array> {
  const paper = papers.get(name);
  if (paper === undefined) throw new Error(`no paper ${name}`);
  const answered = await ask(paper.question, input, portsOver(fresh.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return paper.draw(answered.answer);
}

function keep(name: string, pdf: Uint8Array): void {
  mkdirSync('.out/papers', { recursive: true });
  for (const [i, png] of picturesOf(pdf, 100).entries()) writeFileSync(`.out/papers/${name}-${i + 1}.png`, png);
}

const plain = (pdf: Uint8Array) => wordsOf(pdf).replace(/\s+/g, ' ');

it('tags lie 60 × 20 mm apart within an A4, with room at every edge', () => {
  const last = tagAt(tagGrid.across * tagGrid.down - 1);
  expect([last.x + tagGrid.width, last.y + tagGrid.height]).toEqual([195, 278.5]);
  expect(tagAt(4)).toEqual({ x: 75, y: 38.5 });
});

describe.skipIf(!canReadPdf)('papers of rearing, read back by poppler and zxing', () => {
  it('a bar tag names whose larvae stand where and the day to cage them by; its code is the bar', async () => {
    const { bar } = await season();
    const pdf = await drawn('bar-tags', { graft: bar, today: '2027-05-24' });
    keep('bar-tags', pdf);
    expect(sheetOf(pdf)).toMatchObject({ pages: 1, tagged: true });
    for (const said of ['bar 3 · cross B', '26-014 1–10, 26-020 11–20', 'grafted 23 May', 'cage by 2 Jun'])
      expect(plain(pdf)).toContain(said);
    expect(await codesIn(picturesOf(pdf, 300)[0] ?? new Uint8Array())).toEqual(['bar 3']);
  });

  it('a comb pin names the mother, the eggs and the day it must be behind the excluder', async () => {
    const { comb } = await season();
    const pdf = await drawn('comb-pins', { comb, today: '2027-05-03' });
    keep('comb-pins', pdf);
    for (const said of ['R-07 a', 'eggs 28 Apr – 2 May', 'holder by 21 May, out 22 May'])
      expect(plain(pdf)).toContain(said);
    expect(await codesIn(picturesOf(pdf, 300)[0] ?? new Uint8Array())).toEqual(['R-07 a']);
  });

  it('the incubator door names each bar in 18 point with its first possible queen, and leaves out what is long out', async () => {
    await season();
    const pdf = await drawn('incubator-list', { today: '2027-06-01' });
    keep('incubator-door', pdf);
    for (const said of ['In the incubator', 'bar 3', '16 cells', 'Wed 2 Jun', 'Thu 3 Jun', 'Fri 4 Jun'])
      expect(plain(pdf)).toContain(said);
    expect(plain(await drawn('incubator-list', { today: '2027-06-20' }))).toContain('No cells are on their way.');
  });

  it('the wall sheet is A3 landscape with every cross and every task by its day', async () => {
    await season();
    const pdf = await drawn('season-wall-sheet', { today: '2027-05-03' });
    keep('season-wall', pdf);
    const { width, height } = sheetOf(pdf);
    expect([Math.round(width), Math.round(height)]).toEqual([420, 297]);
    const words = plain(pdf);
    for (const said of ['A 5 Jun 2027', 'B 12 Jun 2027', 'C 10 Jul 2027', '26-014, 26-020', 'B: Inseminate 12 queens.'])
      expect(words).toContain(said);
    expect(words.match(/Graft\./g)?.length).toBe(3);
  });

  it('a bar and a comb two crosses share name both on the wall, with larvae and combs; the tag of the bar too', async () => {
    const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
    const [dam, mother] = [await queen('26-014'), await queen('R-07')];
    const cross = (code: string) =>
      does(
        fresh.store,
        'plan-cross',
        { cross: { code, queens_wanted: 6, dose_ul: 8 }, dams: [dam], drone_sources: [{ queen: mother }] },
        at('2027-04-01'),
      );
    const both = [await cross('A'), await cross('B')];
    const ages = { queen_age: 8, drone_age_from: 14, drone_age_to: 21 };
    const uses = (amount: number) => both.map((id) => ({ cross: id, on: '2027-06-12', amount }));
    const plan = {
      days: both.map((id) => ({ cross: id, on: '2027-06-12', queens: 6, ...ages })),
      bars: [{ dam, day: '2027-05-23', larvae: 26, uses: uses(6) }],
      combs: [{ mother, day: '2027-04-26', combs: 2, uses: uses(1) }],
    };
    const season_ = { name: '2027', from_on: '2027-06-01', to_on: '2027-06-30' };
    await does(fresh.store, 'begin-season', season_, at('2027-04-01'));
    const taken = await tryTo(fresh.store, 'take-season-plan', plan, at('2027-04-01'));
    expect('problems' in taken ? taken.problems : []).toEqual([]);
    const wall = await drawn('season-wall-sheet', { today: '2027-04-02' });
    keep('season-wall-shared', wall);
    for (const said of ['A, B: Graft. (26-014, 26 larvae)', '(R-07, 2 combs)']) expect(plain(wall)).toContain(said);
    const ranges = [{ position_from: 1, position_to: 26, dam }];
    const bar = await does(
      fresh.store,
      'record-graft',
      { graft: { code: 'bar 1', day: '2027-05-23' }, ranges },
      at('2027-05-23'),
    );
    const tag = await drawn('bar-tags', { graft: bar, today: '2027-05-24' });
    keep('bar-tag-shared', tag);
    expect(plain(tag)).toContain('bar 1 · cross A, B');
  });

  it('the wall draws bars and combs where the plan has them, and a bar grafted late where it is with the plan behind it', async () => {
    const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
    const [dam, mother] = [await queen('26-014'), await queen('R-07')];
    const cross = await does(
      fresh.store,
      'plan-cross',
      { cross: { code: 'A', queens_wanted: 6, dose_ul: 8 }, dams: [dam], drone_sources: [{ queen: mother }] },
      at('2027-04-01'),
    );
    const use = (amount: number) => [{ cross, on: '2027-06-12', amount }];
    await does(
      fresh.store,
      'begin-season',
      { name: '2027', from_on: '2027-06-01', to_on: '2027-06-30' },
      at('2027-04-01'),
    );
    // Queens of 10 days on 12 June: grafted 21 May, not the 23rd the usual age of 8 days would ask for. Drones a week earlier than usual.
    const plan = {
      days: [{ cross, on: '2027-06-12', queens: 6, queen_age: 10, drone_age_from: 20, drone_age_to: 27 }],
      bars: [{ dam, day: '2027-05-21', larvae: 14, uses: use(6) }],
      combs: [{ mother, day: '2027-04-20', combs: 1, uses: use(1) }],
    };
    await tryTo(fresh.store, 'take-season-plan', plan, at('2027-04-01'));
    const lanes = async (today: string) => {
      const answered = await ask(seasonWall, { today: today as Day }, portsOver(fresh.store));
      if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
      return answered.answer.crosses[0]?.lanes;
    };
    // Comb in 20 April, eggs from two days later (the lead of the standard text).
    expect(await lanes('2027-04-02')).toMatchObject({
      drones: [{ id: null, who: 'R-07', parts: [{ from: '2027-04-22' }, {}, {}, {}, {}] }],
      queens: [{ id: null, who: '26-014', parts: [{ from: '2027-05-21', to: '2027-06-01' }, {}, {}, {}, {}] }],
    });
    const ranges = [{ position_from: 1, position_to: 14, dam }];
    const graft = { code: 'bar 1', day: '2027-05-23' };
    const bar = await does(fresh.store, 'record-graft', { graft, ranges }, at('2027-05-23'));
    expect((await lanes('2027-05-24'))?.queens).toMatchObject([
      { id: bar, code: 'bar 1', parts: [{ from: '2027-05-23' }, {}, {}, {}, {}], was: { begun: '2027-05-21' } },
    ]);
    const wall = await drawn('season-wall-sheet', { today: '2027-05-24' });
    keep('season-wall-moved', wall);
    for (const said of ['Queens · bar 1 · 26-014', 'Drones · R-07, 34 days late', 'where the plan had it'])
      expect(plain(wall)).toContain(said);
  });

  it('the wall of an empty season says so', async () => {
    expect(plain(await drawn('season-wall-sheet', { today: '2027-05-03' }))).toContain('No cross is planned ahead.');
  });

  it('a hundred bars fill three sheets of tags', async () => {
    const dam = await does(fresh.store, 'record-queen', { queen: { code: '26-014', emerged: '2026-08-20' } });
    const ranges = [{ position_from: 1, position_to: 2, dam }];
    for (let n = 1; n <= 100; n++)
      await does(
        fresh.store,
        'record-graft',
        { graft: { code: `bar ${n}`, day: '2027-05-23' }, ranges },
        at('2027-05-23'),
      );
    expect(sheetOf(await drawn('bar-tags', { today: '2027-05-24' })).pages).toBe(3);
  });
});
