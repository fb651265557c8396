import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { creating } from '#actions/mechanism/recording.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, newId, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { after, at, type Twelve, twelveInseminated, writes } from '../../../tests/support/inseminated.ts';
import { ask } from '../mechanism/ask.ts';
import type { Question } from '../mechanism/question.ts';
import { colony } from './colony.ts';
import { layingRound } from './laying-round.ts';
import { nursing } from './nursing.ts';
import { scoreCards } from './score-cards.ts';
import { springRound } from './spring-round.ts';
import { yards } from './yards.ts';

let on: Fresh;
let the: Twelve;
let care: RecordId;

const asked = async <I, F, A>(question: Question<I, F, A>, input: unknown): Promise<A> => {
  const answered = await ask(question, input, portsOver(on.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer;
};
const nth = <T>(list: readonly T[], n: number): T => list[n] as T;
const look = (n: number, sights: string[], days: number, more: object = {}) =>
  tryTo(
    on.store,
    'check-laying',
    { colony: nth(the.nucs, n - 1), sights, day: after(days), ...more },
    { happened: true, done: at(after(days)) },
  );

beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  the = await twelveInseminated(on.store);
  care = await does(on.store, 'nurse-queens', {
    care: { form: 'cage', care_from: after(0), attendants_ml: 60 },
    queens: the.queens.map((queen, n) => ({ queen, cage_number: String(n + 1) })),
  });
});
afterAll(() => on.end());

describe('nursing and the way home', () => {
  test('tells for each nursed queen her cage and the nuc she goes home to (Q21)', async () => {
    const { open, waiting, queenless } = await asked(nursing, { today: after(1) });
    expect(waiting).toEqual([]);
    expect(open.length).toBe(1);
    expect(open[0]?.queens.map(({ queen, cage, home, state }) => [queen.code, cage, home?.code, state])[2]).toEqual([
      '27-003',
      '3',
      'N-03',
      'nursed',
    ]);
    expect(queenless.length).toBe(12);
  });

  test('after the release nobody waits, excluders are on, and every introduction is unjudged', async () => {
    const home = the.queens.slice(0, 11).map((queen, n) => ({ queen, colony: nth(the.nucs, n) }));
    const input = { care, home, dead: [nth(the.queens, 11)], day: after(2), excluder: true };
    await tryTo(on.store, 'release-queens', input, { happened: true, done: at(after(2)) });
    const told = await asked(nursing, { today: after(3) });
    expect([told.open.length, told.waiting.length, told.unjudged.length, told.excluders.length]).toEqual([
      0, 0, 11, 11,
    ]);
    expect(told.queenless.map(({ code }) => code)).toEqual(['N-12']);
  });
});

describe('yards and the laying round', () => {
  test('nucs stand in walking order, with who heads each and what is due (Q22)', async () => {
    const { yards: all } = await asked(yards, { today: after(7) });
    expect(all.map(({ yard, due }) => [yard?.name, due])).toEqual([['Heath', 11]]);
    expect(all[0]?.nucs.map(({ code }) => code).slice(0, 3)).toEqual(['N-12', 'N-11', 'N-10']);
    const second = all[0]?.nucs[1];
    expect([second?.head?.code, second?.next?.key, second?.next?.from, second?.inseminated?.days]).toEqual([
      '27-011',
      'egg-check',
      after(7),
      7,
    ]);
  });

  test('looks move a nuc off the round; the dead queen is not on it', async () => {
    for (let n = 1; n <= 11; n++) await look(n, n === 4 ? ['no-eggs'] : ['eggs'], 7);
    const { nucs, clocks } = await asked(layingRound, { today: after(10) });
    expect(nucs.filter(({ due }) => due).map(({ code }) => code)).toEqual(['N-04']);
    expect(nucs.map(({ code }) => code)).not.toContain('N-12');
    expect(clocks[0]?.queens).toBe(12);
    // Twelve inseminated, one dead without eggs, ten with eggs on day 7, one looked at without.
    expect(clocks[0]?.steps.find(({ day }) => day === 7)).toEqual({ day: 7, laying: 10, of: 12 });
  });

  test('"Day 12. Of your last … queens, … laid by now" counts only queens of other batches (Q23)', async () => {
    const past: RecordId[] = [];
    for (let n = 0; n < 20; n++) past.push(await does(on.store, 'record-queen', { queen: { code: `26-1${n}` } }));
    await writes(
      on.store,
      past.map((queen) => creating('insemination', newId(), { queen, day: '2026-06-13' as never, done: 1 })),
    );
    for (const [n, queen] of past.entries())
      await tryTo(
        on.store,
        'check-laying',
        { queen, sights: ['eggs'], day: n < 19 ? '2026-06-22' : '2026-06-27' },
        { happened: true },
      );
    const { nucs, pastQueens } = await asked(layingRound, { today: after(10) });
    const fourth = nucs.find(({ code }) => code === 'N-04');
    expect(fourth?.rule).toEqual({ day: 10, laying: 19, of: 20, lateness: 'very-late' });
    expect(pastQueens).toBe(20);
  });

  test('a colony’s leaf tells who heads it, since when, what was seen, and an end that is a span', async () => {
    await look(5, ['another-queen'], 20, { another: { code: '27-905' } });
    const { leaf } = await asked(colony, { colony: nth(the.nucs, 4), today: after(21) });
    expect(leaf?.nuc.head?.code).toBe('27-905');
    expect(leaf?.reigns.map(({ queen, to }) => [queen?.code, to])).toEqual([
      ['27-905', null],
      ['27-005', { earliest: after(7), latest: after(20) }],
      ['27-005', { earliest: after(0), latest: after(0) }],
    ]);
    expect(leaf?.looks.map(({ day, sights }) => [day, sights])).toEqual([
      [after(20), ['another-queen']],
      [after(7), ['eggs']],
    ]);
    expect((await asked(colony, { colony: newId(), today: after(21) })).leaf).toBeNull();
  });
});

describe('the spring check', () => {
  test('names the queens the coming crosses need, and what breaks without each (Q5)', async () => {
    const queen = (code: string, more: object = {}) =>
      does(on.store, 'record-queen', { queen: { code, emerged: '2026-06-01', ...more } });
    const [dam, drones, sister] = [
      await queen('26-001'),
      await queen('26-050'),
      await queen('26-002', { dam: the.dam }),
    ];
    const cross = newId();
    await writes(on.store, [
      creating('cross', cross, { code: 'D', queens_wanted: 8, dose_ul: 8, inseminate_on: '2028-06-10' as never }),
      creating('cross_dam', newId(), { cross, queen: dam }),
      creating('cross_drone_source', newId(), { cross, queen: drones }),
      creating('cross_stand_in', newId(), { cross, queen: sister, side: 'queen' }),
    ]);
    const { queens } = await asked(springRound, { today: '2028-03-20' });
    expect(queens.map(({ queen: face, breaks }) => [face.code, breaks.map(({ side, only }) => [side, only])])).toEqual([
      ['26-001', [['queen', true]]],
      ['26-002', []],
      ['26-050', [['drone', true]]],
    ]);
    // Three founders and a daughter of another: no two of the sides are related.
    expect(queens[0]?.breaks[0]).toMatchObject({ related: 0, standIns: [{ related: 0, queen: { code: '26-002' } }] });
    await tryTo(on.store, 'check-laying', { queen: dam, queen_seen: 'seen', day: '2028-03-20' }, { happened: true });
    const again = await asked(springRound, { today: '2028-03-20' });
    expect(again.queens[0]?.looked).toMatchObject({ queenSeen: 'seen' });
  });

  test('a stand-in who is a daughter of the drone mother is more related: ½ by descent from her', async () => {
    const drones = await does(on.store, 'record-queen', { queen: { code: '26-060', emerged: '2026-06-01' } });
    const dam = await does(on.store, 'record-queen', { queen: { code: '26-061', emerged: '2026-06-01' } });
    const daughter = await does(on.store, 'record-queen', {
      queen: { code: '27-062', emerged: '2027-06-01', dam: drones },
    });
    const cross = newId();
    await writes(on.store, [
      creating('cross', cross, { code: 'E', queens_wanted: 8, dose_ul: 8, inseminate_on: '2028-06-11' as never }),
      creating('cross_dam', newId(), { cross, queen: dam }),
      creating('cross_drone_source', newId(), { cross, queen: drones }),
      creating('cross_stand_in', newId(), { cross, queen: daughter, side: 'queen' }),
    ]);
    const { queens } = await asked(springRound, { today: '2028-03-21' });
    const hers = queens.find(({ queen }) => queen.code === '26-061');
    // Mother and daughter share half (additive relationship ½; genetics of a mother and her queen daughter, any textbook).
    expect(hers?.breaks[0]?.standIns[0]?.related).toBeCloseTo(0.5, 12);
  });
});

test('score cards hold what was read last, and not what is read today', async () => {
  const nuc = nth(the.nucs, 0);
  const score = (value: number, days: number) =>
    tryTo(on.store, 'score-colony', { colony: nuc, day: after(days), readings: [{ trait: 'gentleness', value }] });
  await score(3, 60);
  await score(4, 70);
  const { nucs } = await asked(scoreCards, { today: after(70), yard: the.yard });
  const first = nucs.find(({ id }) => id === nuc);
  expect(first?.last.map(({ trait, value }) => [trait, value])).toEqual([['gentleness', 3]]);
  expect(first?.today.map(({ trait, value }) => [trait, value])).toEqual([['gentleness', 4]]);
  expect(first?.year).toEqual([{ trait: 'gentleness', mean: 3.5, n: 2 }]);
});
