import { afterEach, beforeEach, expect, test } from 'vitest';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { inputOf, usualChoices } from '#domain/worth/choices.ts';
import { evaluate } from '#domain/worth/evaluation.ts';
import { gatherPedigree } from '#gather/pedigree.ts';
import { gatherWorth, worthRecords } from '#gather/worth.ts';
import { crossOutlook } from '#questions/crosses/cross-outlook.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { kindNames } from '#records/kinds.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../tests/support/doing.ts';

let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

const count = async (kind: (typeof kindNames)[number], where = {}) =>
  (await on.store.read([kind], (facts) => facts.count(kind, where))).answer;

test('an invented station: two lines, sixty queens, a year with a bench day, looks and losses', async () => {
  await does(on.store, 'plant-sample', {});
  expect(await count('line')).toBe(2);
  expect(await count('queen')).toBe(60);
  expect(await count('insemination', { done: 1 })).toBeGreaterThanOrEqual(24);
  expect(await count('laying_check')).toBeGreaterThan(60);
  expect(await count('task', { done_on: null })).toBeGreaterThan(10);
  const { answer } = await on.store.read('all', async (facts) => layPedigreeOf((await gatherPedigree(facts)).facts));
  expect(answer.problems).toEqual([]);
});

test('two seasons of a performance test in three yards, enough to work worth out', async () => {
  await does(on.store, 'plant-sample', {});
  const { answer } = await on.store.read('all', (facts) => gatherWorth(facts));
  const records = worthRecords(answer);
  expect(records.length).toBeGreaterThan(24);
  expect(new Set(records.map(({ yard }) => yard.name)).size).toBe(3);
  expect(records.every(({ traits }) => traits.gentleness !== undefined)).toBe(true);
  const { pedigree, years, lines } = answer;
  const facts = { pedigree, years, lines, records };
  const worked = evaluate(inputOf(facts, usualChoices(records, ['gentleness', 'honey', 'hygiene', 'mites'])));
  expect(worked).toMatchObject({ traits: ['gentleness', 'honey', 'hygiene', 'mites'], problems: [] });
});

test('no cross of the sample makes inbred brood: below that of half sisters’ drones (0.125)', async () => {
  await does(on.store, 'plant-sample', {});
  const { answer } = await on.store.read('all', async (facts) => ({
    crosses: await facts.find('cross'),
    dams: await facts.find('cross_dam'),
    sources: await facts.find('cross_drone_source'),
  }));
  expect(answer.crosses).toHaveLength(4);
  for (const { id, code } of answer.crosses) {
    const dams = answer.dams.filter(({ cross }) => cross === id).map(({ queen }) => queen);
    const drone_sources = answer.sources
      .filter(({ cross }) => cross === id)
      .map(({ queen, share }) => ({ queen: queen ?? undefined, share }));
    const asked = await ask(crossOutlook, { dams, drone_sources }, portsOver(on.store));
    if ('problems' in asked) throw new Error(JSON.stringify(asked.problems));
    for (const { broodInbreeding } of asked.answer.dams) expect(broodInbreeding, code).toBeLessThan(0.125);
  }
});

test('goes only into an empty book', async () => {
  await does(on.store, 'record-queen', { queen: { code: 'own' } });
  expect(await tryTo(on.store, 'plant-sample', {})).toMatchObject({ problems: [{ code: 'book-not-empty' }] });
});

test('one act takes it away with all that was written and stepped back meanwhile, and that act steps back', async () => {
  const planted = await tryTo(on.store, 'plant-sample', {});
  expect(planted).toMatchObject({ seq: 1 });
  const extra = await does(on.store, 'record-queen', { queen: { code: 'extra' } });
  await does(on.store, 'record-yard', { name: 'extra' });
  const acts = await on.store.acts({});
  await tryTo(on.store, 'step-back', { act: acts.at(-1)?.id });
  await tryTo(on.store, 'recode-queen', { queen: extra, code: 'extra 2' });
  const removed = await tryTo(on.store, 'remove-sample', {});
  expect(removed).toMatchObject({ result: { steppedBack: expect.arrayContaining([acts[0]?.id]) } });
  for (const kind of kindNames) expect(await count(kind), kind).toBe(0);
  const last = (await on.store.acts({})).at(-1);
  expect(await tryTo(on.store, 'step-back', { act: last?.id })).toMatchObject({ again: false });
  expect(await count('queen')).toBe(61);
  expect(await count('yard')).toBe(3);
  expect(await tryTo(on.store, 'remove-sample', {})).toMatchObject({ again: false });
  expect(await tryTo(on.store, 'remove-sample', {})).toMatchObject({ problems: [{ code: 'no-sample' }] });
});
