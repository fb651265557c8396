import { beforeEach, describe, expect, it } from 'vitest';
import { standardText } from '#domain/rearing/standard-text.ts';
import type { Day } from '#units/calendar-day.ts';
import type { Moment } from '#units/moment.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import type { Question } from '../mechanism/question.ts';
import { barLeaf } from './bar-leaf.ts';
import { combLeaf } from './comb-leaf.ts';
import { countback } from './countback.ts';
import { lanesOf } from './lanes.ts';
import { season } from './season.ts';
import { virgins } from './virgins.ts';

const at = (day: string) => ({ done: `${day}T10:00:00.000+02:00[Europe/Berlin]` as Moment });
const wish = {
  inseminate: '2027-06-12' as Day,
  queens: 12,
  profile: standardText,
  queenAge: 8,
  droneAge: { from: 14, to: 21 },
};
const nothing = { combs: [], bars: [], droneMothers: [{ id: 'r', name: 'R-07' }], dams: '26-014' };

describe('ripeness lanes', () => {
  /** The worked example of the design: I = Sat 12 June 2027, queens 8 days, drones 14-21 days old. */
  it('draw a planned comb and bar by the trade’s timetable', () => {
    const lanes = lanesOf(wish, nothing);
    const [comb, bar] = [lanes.drones[0], lanes.queens[0]];
    expect(comb?.parts[0]).toMatchObject({ growth: 'brood', from: '2027-04-28', to: '2027-05-21' });
    expect(comb?.parts[1]).toMatchObject({ growth: 'immature', from: '2027-05-22' });
    // The oldest drones are 14 days old on 5 June; the youngest 21 on 19 June.
    expect(comb?.ripe).toEqual({ from: '2027-06-05', to: '2027-06-19' });
    expect(bar?.parts[0]).toMatchObject({ from: '2027-05-23', to: '2027-06-03' });
    // Queens of 6-9 days (preferred window of the standard text): 10 to 13 June.
    expect(bar?.ripe).toEqual({ from: '2027-06-10', to: '2027-06-13' });
    expect(bar?.earliest).toBe('2027-06-03');
    expect(lanes.overlap).toEqual({ from: '2027-06-10', to: '2027-06-13' });
  });

  it('do not meet when the drones come too late, and say so by having no overlap', () => {
    const late = { from: '2027-06-20' as Day, to: '2027-06-25' as Day };
    const comb = { id: 'c', code: 'R-07 b', who: 'R-07', mother: 'r', begun: late, emerged: late, earliest: null };
    const lanes = lanesOf(wish, { ...nothing, combs: [comb] });
    expect(lanes.drones).toHaveLength(1);
    expect(lanes.overlap).toBeNull();
  });

  it('have parts that follow each other without a gap', () => {
    for (const lane of [...lanesOf(wish, nothing).drones, ...lanesOf(wish, nothing).queens])
      for (const [i, part] of lane.parts.entries()) {
        expect(part.from <= part.to).toBe(true);
        const next = lane.parts[i + 1];
        if (next !== undefined) expect(next.from > part.to).toBe(true);
      }
  });
});

describe('what is being raised', () => {
  let fresh: Fresh;
  beforeEach(async () => {
    const [sqlite] = databases;
    if (sqlite === undefined) throw new Error('no SQLite');
    fresh = await sqlite.fresh();
    return () => fresh.end();
  });

  async function asks<I, F, A>(question: Question<I, F, A>, input: I): Promise<Awaited<A>> {
    const answered = await ask(question, input, portsOver(fresh.store));
    if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
    return answered.answer as Awaited<A>;
  }

  async function raised() {
    const queen = (code: string) => does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-08-20' } });
    const [dam, mother] = [await queen('26-014'), await queen('R-07')];
    const planned = { code: 'B', queens_wanted: 12, dose_ul: 8, inseminate_on: '2027-06-12' };
    const input = { cross: planned, dams: [dam], drone_sources: [{ queen: mother }] };
    const cross = await does(fresh.store, 'plan-cross', input, at('2027-04-20'));
    const laid = { in_on: '2027-04-26', laid_from: '2027-04-28', laid_to: '2027-05-01' };
    const comb = await does(
      fresh.store,
      'record-drone-comb',
      { code: 'R-07 a', mother, cross, ...laid },
      at('2027-05-01'),
    );
    const graft = { code: 'bar 3', day: '2027-05-23', cross };
    const ranges = [{ position_from: 1, position_to: 20, dam }];
    const bar = await does(fresh.store, 'record-graft', { graft, ranges }, at('2027-05-23'));
    return { dam, mother, cross, comb, bar };
  }

  it('answers on which days drones of a mother are of age, and what a graft today would meet (Q6, Q7)', async () => {
    const { comb } = await raised();
    const now = await asks(season, { today: '2027-05-23' as Day });
    // Laid 28 April - 1 May, out 22-25 May, 14 days old from 5 June, the last 21 days old on 15 June.
    expect(now.combs).toMatchObject([
      {
        code: 'R-07 a',
        who: 'R-07',
        ripe: { from: '2027-06-05', to: '2027-06-15' },
        usableTo: '2027-06-22',
        crossCode: 'B',
      },
    ]);
    expect(now.graftToday.ofAge).toEqual({ from: '2027-06-10', to: '2027-06-13' });
    expect(now.graftToday.combs.map(({ id }) => id)).toEqual([comb]);
  });

  it('answers which bar holds whose cells and when the first queen may be out (Q10, Q11)', async () => {
    const { bar } = await raised();
    const now = await asks(season, { today: '2027-05-25' as Day });
    expect(now.bars).toMatchObject([
      {
        code: 'bar 3',
        earliest: '2027-06-03',
        ranges: [{ from: 1, to: 20, dam: '26-014' }],
        cells: { grafted: 20, accepted: null },
      },
    ]);
    const leaf = await asks(barLeaf, { graft: bar, today: '2027-05-25' as Day });
    expect(leaf?.cells).toHaveLength(20);
    expect(leaf?.crosses.map(({ code }) => code)).toEqual(['B']);
  });

  it('answers which virgins are of which age on the day, and who had no carbon dioxide yet (Q12, Q13)', async () => {
    const { bar } = await raised();
    const out = [{ position: 2 }, { position: 7, code: '27-007' }];
    await does(fresh.store, 'emerge-virgins', { graft: bar, on: '2027-06-04', virgins: out }, at('2027-06-04'));
    const { virgins: all } = await asks(virgins, { today: '2027-06-11' as Day });
    expect(all.map(({ bar: code, cell, ageOnI, age, co2 }) => [code, cell, ageOnI, age, co2])).toEqual([
      ['bar 3', 2, 8, 7, 0],
      ['bar 3', 7, 8, 7, 0],
    ]);
    await does(fresh.store, 'give-co2', { queens: [all[0]?.face.id], relation: 'before' }, at('2027-06-11'));
    expect((await asks(season, { today: '2027-06-11' as Day })).virgins).toEqual({ waiting: 2, withoutCo2: 1 });
  });

  it('counts back with lanes from the book, warnings, and larvae to graft for the queens wanted', async () => {
    const { cross, comb } = await raised();
    const answer = await asks(countback, { cross, today: '2027-05-25' as Day });
    expect(answer?.raising.combs.map(({ id }) => id)).toEqual([comb]);
    expect(answer?.tasks.find(({ key }) => key === 'graft')?.state).toBe('done');
    expect(answer?.counted).toMatchObject({ grafted: 20, accepted: null });
    // More than 12 / (0.8 × 0.9 × 0.88), the mean losses of the profile: nine chances in ten need more.
    expect(answer?.larvae).toBeGreaterThan(19);
    expect(answer?.planned.map(({ step }) => step)).toEqual([
      'grafted',
      'accepted',
      'emerged',
      'of-age',
      'ready',
      'laying',
    ]);
    const leaf = await asks(combLeaf, { comb, today: '2027-05-25' as Day });
    expect(leaf).toMatchObject({ ripe: { from: '2027-06-05' }, cross: { code: 'B' } });
  });
});
