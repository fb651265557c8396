import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { computeHere } from '#compute/here.ts';
import { addDays, type Day, day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { at, twelveInseminated } from '../../../tests/support/inseminated.ts';
import { ask } from '../mechanism/ask.ts';
import { goesWith } from './goes-with.ts';
import { queenSurvival } from './queen-survival.ts';

let on: Fresh;
let ports: ReturnType<typeof portsOver>;
const born = day('2027-06-04');
const today = day('2028-06-01');
const age = (days: number): Day => addDays(born, days);

async function sees(queen: RecordId, sights: string[], on2: Day): Promise<void> {
  const done = await tryTo(on.store, 'check-laying', { queen, sights, day: on2 }, { happened: true, done: at(on2) });
  if ('problems' in done) throw new Error(JSON.stringify(done.problems));
}
const dies = (queen: RecordId, on2: Day, kind = 'died') =>
  does(on.store, 'record-fate', { queen, kind, happened_on: on2 }, { happened: true, done: at(on2) });

async function mated(n: number, more: object): Promise<RecordId> {
  const queen = { code: `27-1${String(n).padStart(2, '0')}`, emerged: born, ...more };
  const id = await does(on.store, 'record-queen', { queen }, { happened: true });
  await does(on.store, 'record-natural-mating', { queen: id, suspected: 0 }, { happened: true });
  return id;
}

/**
 * Twelve inseminated, seen laying at 30 days of age; the first six are lost at 100, 120 … 200 days, the others seen at 300. Eight mated by
 * themselves, laying at 30 days: two lost at 150 and 250, one sold at 90, five seen at 300. Six bought, come at 200 days, one lost at 260.
 */
beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  ports = portsOver(on.store, computeHere);
  const { queens } = await twelveInseminated(on.store);
  for (const [n, queen] of queens.entries()) {
    await sees(queen, ['worker-caps', 'eggs'], age(30));
    if (n < 6) await dies(queen, age(100 + 20 * n));
    else await sees(queen, ['eggs'], age(300));
  }
  for (let n = 0; n < 8; n++) {
    const queen = await mated(n, { origin: 'bred' });
    await sees(queen, ['worker-caps', 'eggs'], age(30));
    if (n < 2) await dies(queen, age(150 + 100 * n));
    else if (n === 2) await dies(queen, age(90), 'sold');
    else await sees(queen, ['eggs'], age(300));
  }
  for (let n = 0; n < 6; n++) {
    const queen = await mated(10 + n, { origin: 'bought', came_on: age(200) });
    if (n === 0) await dies(queen, age(260));
    else await sees(queen, ['eggs'], age(300));
  }
});
afterAll(() => on.end());

const asked = async (by: string, more: object = {}) => {
  const answered = await ask(queenSurvival, { today, by, ...more }, ports);
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer;
};

describe('how long queens of the book last', () => {
  test('inseminated against naturally mated: counts, a ratio with its range, luck, who is left out', async () => {
    const { groups, ratios, test: rank, leftOut } = await asked('mating');
    expect(groups.map(({ group, queens, lost }) => [group, queens, lost])).toEqual([
      ['inseminated', 12, 6],
      ['natural', 14, 3],
    ]);
    expect(ratios[0]).toMatchObject({ group: 'inseminated', against: 'natural', luck: 'easily' });
    expect(ratios[0]?.ratio.value).toBeGreaterThan(1);
    expect(rank?.p).toBeGreaterThan(0.1);
    // The dam of the twelve: nothing is written of her mating.
    expect(leftOut).toEqual([{ why: 'no-group', queens: 1 }]);
  });

  test('a bought queen is watched only from the day she came', async () => {
    const { groups } = await asked('mating');
    const natural = groups.find(({ group }) => group === 'natural');
    // At 150 days seven of the own eight are watched (one is sold); at 260 five own ones and six bought.
    expect(natural?.curve.map(({ day: on2, atRisk }) => [on2, atRisk])).toEqual([
      [150, 7],
      [250, 12],
      [260, 11],
    ]);
  });

  test('a culled queen is lost, or watched until then, as asked', async () => {
    const culled = await mated(30, { origin: 'bred' });
    await sees(culled, ['worker-caps', 'eggs'], age(30));
    await dies(culled, age(180), 'culled');
    const natural = async (as: string) =>
      (await asked('mating', { culled: as })).groups.find(({ group }) => group === 'natural');
    const [lost, watched] = [await natural('lost'), await natural('watched')];
    expect([lost?.queens, lost?.lost, watched?.queens, watched?.lost]).toEqual([15, 4, 15, 3]);
    // Watched until then: she is among those at risk at 150 days, and no more at 250.
    expect(watched?.curve.map(({ day: on2, atRisk }) => [on2, atRisk])).toEqual([
      [150, 8],
      [250, 12],
      [260, 11],
    ]);
    expect(lost?.curve.map(({ day: on2 }) => on2)).toEqual([150, 180, 250, 260]);
  });

  test('by year and line', async () => {
    expect((await asked('year')).groups.map(({ group, queens }) => [group, queens])).toEqual([['2027', 27]]);
    expect(await asked('year')).toMatchObject({ noRatio: 'one-group', test: null });
    expect((await asked('line')).leftOut).toEqual([{ why: 'no-group', queens: 28 }]);
  });

  test('nothing later than the day asked about counts', async () => {
    const answered = await ask(queenSurvival, { today: age(125), by: 'mating' }, ports);
    if ('problems' in answered) throw new Error('refused');
    expect(answered.answer.groups.find(({ group }) => group === 'inseminated')?.lost).toBe(2);
  });
});

test('what goes with laying, from the book: twelve known ends are too few and it says so', async () => {
  const answered = await ask(goesWith, { today }, ports);
  if ('problems' in answered) throw new Error('refused');
  expect(answered.answer).toMatchObject({ refused: 'few-ends', effects: [], leftOut: { open: 0, notWritten: 0 } });
});
