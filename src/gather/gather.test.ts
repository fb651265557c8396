import { afterEach, beforeEach, expect, test } from 'vitest';
import { inbreeding, relationship } from '#domain/pedigree/kinship.ts';
import { assumptionsOf, layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../tests/support/databases.ts';
import { does, tryTo } from '../../tests/support/doing.ts';
import { gatherPedigree } from './pedigree.ts';

let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const queen = (code: string, more: object = {}) => does(on.store, 'record-queen', { queen: { code, ...more } });
const inseminate = (id: RecordId, parts: object[], more: object = {}) =>
  does(on.store, 'tell-mating', { queen: id, carries: { how: 'inseminated', parts, ...more } });

async function pedigree() {
  const { answer } = await on.store.read('all', (facts) => gatherPedigree(facts));
  const laid = layPedigreeOf(answer.facts);
  if (laid.pedigree === null) throw new Error(JSON.stringify(laid.problems));
  return laid.pedigree;
}

test('sisters by one drone mother are related 0.5 + 0.25/n (textbook haplodiploid coefficient, 10 drones: 0.525)', async () => {
  const [dam, drones] = [await queen('A'), await queen('M')];
  await inseminate(dam, [{ queen: drones }], { drones: 10 });
  const [one, other] = [await queen('D1', { dam }), await queen('D2', { dam })];
  expect(relationship(await pedigree(), one, other)).toBeCloseTo(0.525, 12);
});

test('daughters of one drone are related 0.75 (textbook), and mated to her own sons’ mother a queen’s brood is inbred', async () => {
  const [dam, drones] = [await queen('A'), await queen('M')];
  await inseminate(dam, [{ queen: drones }], { drones: 1 });
  const [one, other] = [await queen('D1', { dam }), await queen('D2', { dam })];
  expect(relationship(await pedigree(), one, other)).toBeCloseTo(0.75, 12);
  await inseminate(one, [{ queen: dam }], { drones: 8 });
  const grand = await queen('G', { dam: one });
  expect(inbreeding(await pedigree(), grand)).toBeCloseTo(0.25, 12);
});

// Worked example E5 by hand: sisters ¼ + ½/N + ¼(1 − 1/N)/J + ¼ā(1 − 1/N)(1 − 1/J); J = 4 mothers of 20 unrelated drones (ā = .275), N = 10: .402656
test('queens who flew to a mating place met the drones of its mothers at random, a group counts with all its sisters', async () => {
  const [founder, dam] = [await queen('F'), await queen('A')];
  await does(on.store, 'tell-mating', { queen: founder, carries: { how: 'open', drones: 20 } });
  const sister_group = await does(on.store, 'record-sister-group', { code: 'S', dam: founder, size: 3 });
  const fourth = await queen('S4', { dam: founder });
  const sources = [{ sister_group }, { queen: fourth }];
  const season = await does(on.store, 'record-mating-season', { place: 'Kesselgrund', year: 2027, sources });
  await does(on.store, 'tell-mating', { queen: dam, carries: { how: 'open', season, drones: 10 } });
  const [one, other] = [await queen('D1', { dam }), await queen('D2', { dam })];
  const laid = await pedigree();
  expect(relationship(laid, one, other)).toBeCloseTo(0.402656, 6);
  const assumed = { code: 'met-at-random', pool: 'drones at Kesselgrund, 2027' };
  expect(assumptionsOf(laid)).toContainEqual(assumed);
  // a daughter cannot have stood where her mother flew
  const again = { place: 'Kesselgrund', year: 2027, sources: [{ queen: one }] };
  expect('seq' in (await tryTo(on.store, 'record-mating-season', again))).toBe(true);
  const looped = { kind: 'mating_season_source', id: await sourceOf(fourth), set: { queen: one } };
  expect(await tryTo(on.store, 'correct', looped)).toMatchObject({ problems: [{ code: 'descent-loop' }] });
});

async function sourceOf(stood: RecordId): Promise<RecordId | undefined> {
  const { answer } = await on.store.read('all', (facts) => facts.find('mating_season_source', { queen: stood }));
  return answer[0]?.id;
}

test('a loop through semen is refused: a daughter cannot be the drone mother of her own mother’s earlier mating', async () => {
  const [dam, drones] = [await queen('A'), await queen('M')];
  await inseminate(dam, [{ queen: drones }]);
  const daughter = await queen('D', { dam });
  const refused = await tryTo(on.store, 'record-queen', { queen: { code: 'X', dam: daughter } });
  expect('seq' in refused).toBe(true);
  const looped = await tryTo(on.store, 'tell-mating', {
    queen: dam,
    carries: { how: 'inseminated', parts: [{ queen: daughter }] },
  });
  expect(looped).toMatchObject({ problems: [{ code: 'descent-loop' }] });
  expect(await tryTo(on.store, 'correct', { kind: 'queen', id: dam, set: { dam: daughter } })).toMatchObject({
    problems: [{ code: 'descent-loop' }],
  });
});

test('one drone mother or another are possible worlds, said beside every number (odd record 1)', async () => {
  const [dam, r7, r9] = [await queen('22-007'), await queen('R-07'), await queen('R-09')];
  await inseminate(dam, [
    { queen: r7, share: 0.7, alternative: 1 },
    { queen: r9, share: 0.3, alternative: 1 },
  ]);
  const her = await queen('24-031', { dam });
  const laid = await pedigree();
  expect(relationship(laid, her, r7)).toBeCloseTo(0.35, 12);
  expect(relationship(laid, her, r9)).toBeCloseTo(0.15, 12);
  expect(assumptionsOf(laid)).toContainEqual({
    code: 'one-of',
    pool: 'semen of 22-007',
    sources: [
      { source: 'R-07', probability: 0.7 },
      { source: 'R-09', probability: 0.3 },
    ],
  });
});

test('two queens exchanged answer for each other in what was recorded meanwhile (odd record 9)', async () => {
  const [a, b, m] = [await queen('27-015'), await queen('27-016'), await queen('M')];
  await inseminate(a, [{ queen: m }], { on: '2027-06-12', drones: 1 });
  await does(on.store, 'record-exchange', { one: a, other: b, exchanged_on: '2027-06-04', noticed_on: '2027-07-20' });
  const [d1, d2] = [
    await queen('x1', { dam: b, emerged: '2027-08-30' }),
    await queen('x2', { dam: b, emerged: '2027-08-30' }),
  ];
  expect(relationship(await pedigree(), d1, d2)).toBeCloseTo(0.75, 12);
  const { answer } = await on.store.read(['insemination'], (facts) => facts.find('insemination'));
  expect(answer[0]?.queen).toBe(a);
});
