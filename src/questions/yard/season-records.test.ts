import { afterEach, beforeEach, expect, test } from 'vitest';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import { worthFacts } from '../stock/worth-facts.ts';
import { seasonRecordsOf } from './season-records.ts';

let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const make = (name: string, input: unknown) => does(on.store, name, input, { happened: true });

async function seasons(input: object = {}) {
  const answered = await ask(seasonRecordsOf, { today: '2028-09-01', ...input }, portsOver(on.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer;
}

/** Two sisters in one yard, a stranger alone in another, with two scores each. */
async function threeColonies() {
  const dam = await make('record-queen', { queen: { code: 'A-01', emerged: '2026-06-01' } });
  const yards = [await make('record-yard', { name: 'Heath' }), await make('record-yard', { name: 'Marsh' })];
  const queens: string[] = [];
  for (const [n, yard] of [yards[0], yards[0], yards[1]].entries()) {
    const colony = await make('record-colony', {
      colony: { code: `C-${n}`, form: 'full', since: '2027-06-01' },
      yard,
      spot: n,
    });
    const queen = { code: `27-00${n}`, emerged: '2027-06-01', ...(n < 2 ? { dam } : {}) };
    queens.push(await make('record-queen', { queen, stands: { colony, since: '2027-06-10' } }));
    for (const [day, value] of [
      ['2028-05-10', 3],
      ['2028-06-10', 4 - n],
    ] as const)
      await does(on.store, 'score-colony', { colony, day, readings: [{ trait: 'gentleness', value }] }).catch(() => '');
  }
  return { queens, yards };
}

test('one value a queen and yard-year with how many readings it rests on; a lone yard-year and sets without a parent in common', async () => {
  await threeColonies();
  const { records, traits, alone, sets, leftOut } = await seasons();
  expect(
    records.map(({ code, year, yard, traits: of }) => [code, year, yard.name, of[0]?.value, of[0]?.readings]),
  ).toEqual(
    expect.arrayContaining([
      ['27-000', 2028, 'Heath', 3.5, 2],
      ['27-001', 2028, 'Heath', 3, 2],
      ['27-002', 2028, 'Marsh', 2.5, 2],
    ]),
  );
  expect(records[0]?.traits[0]?.enough).toBe(4);
  expect(traits).toEqual(['gentleness']);
  expect(alone).toEqual(['Marsh 2028']);
  expect(sets).toEqual([['Heath 2028'], ['Marsh 2028']]);
  expect(leftOut).toEqual([]);
});

test('one queen opens down to her readings', async () => {
  const { queens } = await threeColonies();
  const { records } = await seasons({ queen: queens[0] });
  expect(records).toHaveLength(1);
  expect(records[0]?.traits[0]?.behind.map(({ day, value, colony }) => [day, value, colony?.code])).toEqual([
    ['2028-05-10', 3, 'C-0'],
    ['2028-06-10', 4, 'C-0'],
  ]);
});

test('the facts of worth hold descent, years and the same season values', async () => {
  const { queens } = await threeColonies();
  const answered = await ask(worthFacts, { today: '2028-09-01' }, portsOver(on.store));
  if ('problems' in answered) throw new Error('refused');
  const { records, years, traits, pedigree } = answered.answer;
  expect(traits).toEqual(['gentleness']);
  expect(records.find(({ queen }) => queen === queens[1])).toMatchObject({ traits: { gentleness: 3 }, year: 2028 });
  expect(years[queens[0] ?? '']).toBe(2027);
  expect(pedigree.queens).toHaveLength(4);
});

test('who took most readings of a season, and whether the queen was inseminated, stand beside it', async () => {
  const { queens } = await threeColonies();
  const [ada, ben] = [await make('record-person', { name: 'Ada' }), await make('record-person', { name: 'Ben' })];
  const { records: before } = await seasons({ queen: queens[0] });
  const colony = before[0]?.traits[0]?.behind[0]?.colony?.id;
  for (const [day, person] of [
    ['2028-05-20', ada],
    ['2028-06-20', ada],
    ['2028-07-01', ben],
  ])
    await does(on.store, 'score-colony', { colony, day, person, readings: [{ trait: 'gentleness', value: 3 }] });
  await make('tell-mating', { queen: queens[0], carries: { how: 'inseminated', parts: [{ queen: queens[2] }] } });
  const answered = await ask(worthFacts, { today: '2028-09-01' }, portsOver(on.store));
  if ('problems' in answered) throw new Error('refused');
  const of = (queen: string | undefined) => answered.answer.records.find((record) => record.queen === queen);
  expect(of(queens[0])).toMatchObject({ tester: 'Ada', isInseminated: true });
  expect(of(queens[1])?.tester).toBeUndefined();
  expect(of(queens[1])).toMatchObject({ isInseminated: false });
});
