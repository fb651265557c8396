import { mkdirSync, writeFileSync } from 'node:fs';
import ICAL from 'ical.js';
import { beforeEach, describe, expect, it } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import type { Moment } from '#units/moment.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { actNumbered, does, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { canReadPdf, picturesOf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import { papers } from '../registry.ts';

const spring = { done: '2027-04-20T10:00:00.000+02:00[Europe/Berlin]' as Moment };

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const queen = (code: string, about: object = {}) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' }, ...about }, spring);

async function planned(purpose = 'Gentle bees for the lower yard'): Promise<RecordId> {
  const dam = await queen('26-014', { mark: { colour: 'white', disc: 14 } });
  const [mother, second] = [await queen('R-07'), await queen('R-09')];
  const cross = {
    code: 'B',
    queens_wanted: 12,
    dose_ul: 8,
    inseminate_on: '2027-06-12',
    purpose,
    latest_on: '2027-06-26',
  };
  const drone_sources = [
    { queen: mother, share: 0.6 },
    { queen: second, share: 0.4 },
  ];
  const stand_ins = [{ queen: await queen('26-020'), side: 'queen' }];
  return does(fresh.store, 'plan-cross', { cross, dams: [dam], drone_sources, stand_ins }, spring);
}

async function drawn(name: string, input: object): Promise<Uint8Array> {
  const paper = papers.get(name);
  if (paper === undefined) throw new Error(`no paper ${name}`);
  const answered = await ask(paper.question, input, portsOver(fresh.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return paper.draw(answered.answer);
}

/** Kept to be looked at. */
function keep(name: string, pdf: Uint8Array): void {
  mkdirSync('.out/papers', { recursive: true });
  for (const [i, png] of picturesOf(pdf, 100).entries()) writeFileSync(`.out/papers/${name}-${i + 1}.png`, png);
}

const plain = (pdf: Uint8Array) => wordsOf(pdf).replace(/\s+/g, ' ');

describe.skipIf(!canReadPdf)('the papers of a cross, read back by poppler', () => {
  it('the cross slip is A6, with both sides, shares, stand-ins, day and purpose', async () => {
    const pdf = await drawn('cross-slip', { cross: await planned(), today: '2027-04-20' });
    keep('cross-slip', pdf);
    expect(sheetOf(pdf)).toMatchObject({ pages: 1, tagged: true });
    expect(sheetOf(pdf).width).toBeCloseTo(105, 0);
    const words = plain(pdf);
    for (const said of ['Cross B', 'Sat 12 Jun 2027', '12 queens', '26-014', 'R-07', '60%', '26-020', 'Gentle bees'])
      expect(words).toContain(said);
  });

  it('the slip stays one page and inert whatever is written on it', async () => {
    const purpose = `<img src=x onerror=alert(1)> ${'very long purpose '.repeat(50)}`;
    const pdf = await drawn('cross-slip', { cross: await planned(purpose), today: '2027-04-20' });
    expect(sheetOf(pdf).pages).toBe(1);
    expect(plain(pdf)).toContain('<img src=x onerror=alert(1)>');
  });

  it('the countback sheet shows lanes and every task with its day', async () => {
    const pdf = await drawn('countback-sheet', { cross: await planned(), today: '2027-04-20' });
    keep('countback-sheet', pdf);
    expect(sheetOf(pdf).width).toBeCloseTo(297, 0);
    expect(sheetOf(pdf).pages).toBe(1);
    const words = plain(pdf);
    for (const said of ['Cross B', 'Sun 23 May', 'Graft.', 'Mon 26 Apr', 'I Sat 12 Jun 2027', '(R-07, R-09)'])
      expect(words).toContain(said);
  });

  it('a task whose day is past is printed in the words the screens show it with: at once, not by a day', async () => {
    const cross = await planned();
    for (const [name, input] of [
      ['countback-sheet', { cross, today: '2027-05-24' }],
      ['season-wall-sheet', { today: '2027-05-24' }],
    ] as const) {
      const pdf = await drawn(name, input);
      keep(`${name}-late`, pdf);
      expect(plain(pdf)).toContain('once; drones may be out.');
      expect(plain(pdf)).not.toContain('By today: sealed');
    }
  });
});

describe('the calendar file, read by ical.js', () => {
  it('has every task as a whole day, the end the day after the last (RFC 5545, 3.6.1)', async () => {
    const bytes = await drawn('countback-calendar', { cross: await planned(), today: '2027-04-20' });
    const text = new TextDecoder().decode(bytes);
    expect(text).toContain('\r\n');
    const events = new ICAL.Component(ICAL.parse(text))
      .getAllSubcomponents('vevent')
      .map((each) => new ICAL.Event(each));
    expect(events).toHaveLength(21);
    const graft = events.find(({ summary }) => summary.startsWith('Graft.'));
    expect(graft?.startDate.isDate).toBe(true);
    expect([graft?.startDate.toString(), graft?.endDate.toString()]).toEqual(['2027-05-23', '2027-05-24']);
    expect(graft?.description).toContain('26-014');
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(21);
  });

  /** RFC 5545, 3.8.1.11 (STATUS) and 3.8.7.4 (SEQUENCE): an entry is called off by its own uid with a higher number. */
  async function entries(cross: RecordId) {
    const text = new TextDecoder().decode(await drawn('countback-calendar', { cross, today: '2027-05-26' }));
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent');
    return new Map(
      events.map((each) => {
        const { uid, summary, sequence } = new ICAL.Event(each);
        return [uid, { summary, sequence, status: each.getFirstPropertyValue('status') }] as const;
      }),
    );
  }

  /** Cross B with a planned bar and comb, and a repair that was taken. */
  async function repaired(repair: (of: { dam: RecordId; mother: RecordId; other: RecordId }) => object) {
    const [dam, mother, other] = [await queen('26-014'), await queen('R-07'), await queen('R-09')];
    const cross = { code: 'B', queens_wanted: 12, dose_ul: 8 };
    const id = await does(
      fresh.store,
      'plan-cross',
      { cross, dams: [dam], drone_sources: [{ queen: mother }] },
      spring,
    );
    const use = (amount: number) => [{ cross: id, on: '2027-06-12', amount }];
    await does(fresh.store, 'begin-season', { name: '2027', from_on: '2027-06-01', to_on: '2027-06-30' }, spring);
    const plan = {
      days: [{ cross: id, on: '2027-06-12', queens: 12, queen_age: 8, drone_age_from: 14, drone_age_to: 21 }],
      bars: [{ dam, day: '2027-05-23', larvae: 26, uses: use(12) }],
      combs: [{ mother, day: '2027-04-26', combs: 2, uses: use(2) }],
    };
    await tryTo(fresh.store, 'take-season-plan', plan, spring);
    const before = await entries(id);
    const at = { done: '2027-04-22T10:00:00.000+02:00[Europe/Berlin]' as Moment };
    const done = await tryTo(
      fresh.store,
      'repair-day',
      { on: '2027-06-12', repair: repair({ dam, mother, other }) },
      at,
    );
    if ('problems' in done) throw new Error(JSON.stringify(done.problems));
    return { id, before, act: await actNumbered(fresh.store, done.seq) };
  }

  it('calls off the tasks of one more graft that was stepped back, and takes them up again when that is stepped back', async () => {
    const { id, before, act } = await repaired(({ dam }) => ({
      kind: 'graft-more',
      dam,
      larvae: 10,
      day: '2027-05-26',
    }));
    const added = [...(await entries(id))].filter(([uid]) => !before.has(uid));
    expect(added.length).toBeGreaterThan(2);
    expect(added.some(([, { summary }]) => summary.startsWith('Graft.'))).toBe(true);
    const back = await tryTo(fresh.store, 'step-back', { act }, spring);
    if ('problems' in back) throw new Error(JSON.stringify(back.problems));
    const after = await entries(id);
    for (const [uid, { sequence }] of added)
      expect(after.get(uid)).toMatchObject({ status: 'CANCELLED', sequence: sequence + 1 });
    for (const [uid, { sequence }] of before) expect(after.get(uid)).toMatchObject({ status: 'CONFIRMED', sequence });
    await tryTo(fresh.store, 'step-back', { act: await actNumbered(fresh.store, back.seq) }, spring);
    const again = await entries(id);
    for (const [uid, { sequence }] of added)
      expect(again.get(uid)).toMatchObject({ status: 'CONFIRMED', sequence: sequence + 2 });
  });

  it('calls off the tasks of combs given up for another mother’s drones', async () => {
    const { id, before } = await repaired(({ mother, other }) => ({
      kind: 'other-drones',
      instead: mother,
      mother: other,
    }));
    const combs = [...before].filter(([, { summary }]) => summary.startsWith('Hang the drone comb'));
    expect(combs.length).toBe(1);
    const after = await entries(id);
    for (const [uid, { sequence }] of combs)
      expect(after.get(uid)).toMatchObject({ status: 'CANCELLED', sequence: sequence + 1 });
    expect([...before.keys()].filter((uid) => !after.has(uid))).toEqual([]);
  });
});
