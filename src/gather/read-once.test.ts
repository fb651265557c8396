import { expect, test } from 'vitest';
import type { Facts } from '#ports/store.ts';
import { databases } from '../../tests/support/databases.ts';
import { does } from '../../tests/support/doing.ts';
import { readOnce } from './read-once.ts';

test('a list asked for twice is read once; sorting the one leaves the other; other conditions are other lists', async () => {
  const fresh = await databases[0]?.fresh();
  if (fresh === undefined) throw new Error('no database');
  for (const code of ['B', 'A', 'C']) await does(fresh.store, 'record-queen', { queen: { code, year: 2027 } });
  const { answer } = await fresh.store.read(['queen'], async (facts) => {
    let readings = 0;
    let turns = 0;
    const counted: Facts = {
      ...facts,
      find: (kind, where) => {
        readings++;
        return facts.find(kind, where);
      },
      turn: async () => {
        turns++;
      },
    };
    const once = readOnce(counted);
    const [first, same] = await Promise.all([once.find('queen'), once.find('queen', {})]);
    first.sort((a, b) => ((a.code ?? '') < (b.code ?? '') ? -1 : 1)).pop();
    const later = await once.find('queen');
    const before = readings;
    const some = await once.find('queen', { code: 'A' });
    const listed = [await once.find('queen', { code: ['A', 'B'] }), await once.find('queen', { code: ['A', 'B'] })];
    return { before, readings, turns, same, later, some, listed, plain: await facts.find('queen') };
  });
  expect(answer.before).toBe(1);
  expect(answer.readings).toBe(4);
  // whoever asks again for what is held lets others have their turn, since nothing is waited for
  expect(answer.turns).toBe(2);
  expect(answer.same).toEqual(answer.plain);
  expect(answer.later).toEqual(answer.plain);
  expect(answer.some.map(({ code }) => code)).toEqual(['A']);
  expect(answer.listed.map((rows) => rows.length)).toEqual([2, 2]);
  await fresh.end();
});
