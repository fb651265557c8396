import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { creating } from '#actions/mechanism/recording.ts';
import { lessons as command } from '#cli/commands/lessons.ts';
import { readGiven } from '#cli/given.ts';
import { parse } from '#records/parse.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { newId, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { after, at, type Twelve, twelveInseminated, writes } from '../../../tests/support/inseminated.ts';
import { ask } from '../mechanism/ask.ts';
import { lessons, outcomes } from './lessons.ts';

let on: Fresh;
let the: Twelve;

async function look(n: number, sights: string[], days: number): Promise<void> {
  const input = { colony: the.nucs[n - 1] as RecordId, sights, day: after(days) };
  const done = await tryTo(on.store, 'check-laying', input, { happened: true, done: at(after(days)) });
  if ('problems' in done) throw new Error(JSON.stringify(done.problems));
}

/**
 * Mira did 1-7, Tadek 8-12; tip 3 did 1-5. 1-9 lay worker brood, 10 is a drone layer, 11 was gone at the second look, of 12 only
 * eggs are known. So tip 3: 5 of 5, tip 4: 4 of 6 known (8 … 11), Mira 7 of 7, Tadek 2 of 4.
 */
beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  the = await twelveInseminated(on.store);
  for (let n = 1; n <= 12; n++) await look(n, n === 11 ? ['no-eggs'] : ['eggs'], 7 + (n % 3));
  await look(11, ['queen-gone'], 14);
  for (let n = 1; n <= 9; n++) await look(n, ['worker-caps'], 21);
  await look(10, ['drone-caps'], 21);
});
afterAll(() => on.end());

const today = after(30);
const asked = async <I, F, A>(question: Parameters<typeof ask<I, F, A>>[0], input: unknown): Promise<A> => {
  const answered = await ask(question, input, portsOver(on.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer;
};

describe('lessons from the book', () => {
  test('counts by operator and tip, with both denominators; laying means capped worker brood', async () => {
    const byTip = await asked(lessons, { today, by: 'tip' });
    expect(byTip.lessons.groups.map(({ group, laying, known, open }) => [group, laying, known, open])).toEqual([
      ['3', 5, 5, 0],
      ['4', 4, 6, 1],
    ]);
    const byOperator = await asked(lessons, { today });
    expect(byOperator.lessons.groups.map(({ group, laying, known }) => [group, laying, known])).toEqual([
      ['Mira', 7, 7],
      ['Tadek', 2, 4],
    ]);
    expect(byOperator.lessons.overall.ofInseminated).toMatchObject({ laying: 9, of: 11 });
    // Queen 11 was alive at her first look and gone at the second.
    expect(byOperator.lessons.overall.ofAliveAtFirstCheck).toMatchObject({ laying: 9, of: 11 });
  });

  test('gathers batch, storage, queen age and bench day from the ledger and the bench', async () => {
    const { columns, rows } = await asked(outcomes, { today });
    const first = Object.fromEntries(columns.map((column, n) => [column, rows[0]?.[n]]));
    expect(first).toMatchObject({
      queen: '27-001',
      inseminated: '2027-06-12',
      batch: 'C-07',
      storage_days: '2',
      queen_age: '8',
      dose: '8',
      laying: 'yes',
      laying_on: after(21),
      brood: 'worker',
      exceptions: 'none',
    });
    const eleventh = Object.fromEntries(columns.map((column, n) => [column, rows[10]?.[n]]));
    expect(eleventh).toMatchObject({ laying: 'no', lost_on: after(14), fate: 'lost', brood: 'none' });
  });

  test('says in counts what stands apart, whether luck does it, and what changed together', async () => {
    const { comparisons, together, funnel, behind } = await asked(lessons, { today, by: 'tip' });
    expect(comparisons[0]).toEqual({
      group: '3',
      laying: 5,
      known: 5,
      othersLaying: 4,
      othersKnown: 6,
      luck: 'easily',
    });
    expect(funnel?.points.map(({ group, hollow }) => [group, hollow])).toEqual([
      ['3', false],
      ['4', false],
    ]);
    expect(
      together.some(({ group, factor, value }) => group === '3' && factor === 'operator' && value === 'Mira'),
    ).toBe(false);
    expect(behind.filter(({ group }) => group === '3').map(({ queen }) => queen)).toEqual([
      '27-001',
      '27-002',
      '27-003',
      '27-004',
      '27-005',
    ]);
  });

  test('the command on the exported rows gives the same numbers, key by key', async () => {
    const { columns, rows } = await asked(outcomes, { today });
    const file = new TextEncoder().encode([columns, ...rows].map((row) => row.join(',')).join('\n'));
    const never = () => Promise.reject(new Error('nothing is written'));
    const world = { read: async () => file, write: never, tell: () => undefined };
    for (const by of ['operator', 'batch', 'tip', 'storage_days', 'queen_age', 'care'] as const) {
      const told = await command.run(readGiven(command, ['OUTCOMES.csv', '--by', by]), world);
      const { lessons: fromBook } = await asked(lessons, { today, by });
      expect(JSON.parse(JSON.stringify(told.json)), by).toEqual(JSON.parse(JSON.stringify(fromBook)));
    }
  });

  test('a queen inseminated again after more than a week counts once for each; a split dose is one (odd record 3)', async () => {
    const own = await (databases[0] as (typeof databases)[0]).fresh();
    const twelve = await twelveInseminated(own.store);
    const queen = twelve.queens[0] as RecordId;
    await writes(own.store, [
      creating('insemination', newId(), { queen, day: after(2), tip: '3', given_ul: 4, done: 1 }),
      creating('insemination', newId(), { queen, day: after(16), tip: '5', given_ul: 8, done: 1 }),
    ]);
    const colony = twelve.nucs[0] as RecordId;
    for (const [sights, days] of [
      [['no-eggs'], 10],
      [['worker-caps'], 40],
    ] as const)
      await tryTo(own.store, 'check-laying', { colony, sights, day: after(days) }, { happened: true });
    const answered = await ask(outcomes, { today: after(60) }, portsOver(own.store));
    if ('problems' in answered) throw new Error('refused');
    const { columns, rows } = answered.answer;
    const hers = rows
      .map((row) => Object.fromEntries(columns.map((column, n) => [column, row[n]])))
      .filter((row) => row.queen === '27-001');
    expect(hers.map(({ inseminated, dose, tip, laying, brood }) => [inseminated, dose, tip, laying, brood])).toEqual([
      [after(0), '12', '3', 'no', 'none'],
      [after(16), '8', '5', 'yes', 'worker'],
    ]);
    await own.end();
  });

  test('another factor than those offered is refused', () => {
    expect(parse(lessons.input, { today, by: 'weather' })).toHaveProperty('problems');
  });
});
