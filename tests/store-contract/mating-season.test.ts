import { describe, expect, test } from 'vitest';
import {
  broodInbreeding,
  daughtersRelationship,
  relationship,
  workersRelationships,
} from '#domain/pedigree/kinship.ts';
import type { Pedigree } from '#domain/pedigree/laid-pedigree.ts';
import { layPedigreeOf } from '#domain/pedigree/pedigree.ts';
import { gatherPedigree } from '#gather/pedigree.ts';
import type { Done, Refused, Store } from '#ports/store.ts';
import { ask } from '#questions/mechanism/ask.ts';
import { questions } from '#questions/registry.ts';
import type { SeasonOutlook } from '#questions/stock/mating-season-outlook.ts';
import type { MatingSeasonTold } from '#questions/stock/mating-seasons.ts';
import type { KindName } from '#records/kinds.ts';
import type { RecordId } from '#units/record-id.ts';
import { sayProblem } from '#words/say.ts';
import { databases } from '../support/databases.ts';
import { does, portsOver, tryTo } from '../support/doing.ts';

const codes = (done: Done | Refused) => ('problems' in done ? done.problems.map(({ code }) => code) : ['(kept)']);
const words = (done: Done | Refused) =>
  ('problems' in done ? done.problems : done.warnings).map((problem) => sayProblem(problem)).join(' ');

async function asks<A>(store: Store, name: string, input: object): Promise<A> {
  const question = questions.get(name);
  if (question === undefined) throw new Error(`no question ${name}`);
  const answered = await ask(question, input, portsOver(store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as A;
}

const counted = async (store: Store, ...kinds: KindName[]) =>
  (await store.read('all', (facts) => Promise.all(kinds.map((kind) => facts.count(kind))))).answer;

const lastAct = async (store: Store): Promise<RecordId> => {
  const last = (await store.acts({})).at(-1);
  if (last === undefined) throw new Error('no act');
  return last.id;
};

const seasonsOf = async (store: Store) =>
  (await asks<{ seasons: MatingSeasonTold[] }>(store, 'mating-seasons', { today: '2027-09-01' })).seasons;

async function laid(store: Store): Promise<Pedigree> {
  const { answer } = await store.read('all', (facts) => gatherPedigree(facts));
  const { pedigree } = layPedigreeOf(answer.facts);
  if (pedigree === null) throw new Error('descent loops');
  return pedigree;
}

/** S and her daughter F, a stranger M; a season in which M stood is written, F flew there and raised D. */
async function valley(store: Store) {
  const queen = (code: string, more: object = {}) =>
    does(store, 'record-queen', { queen: { code, emerged: '2025-06-01', ...more } });
  const s = await queen('S');
  const m = await queen('M');
  const f = await queen('F', { dam: s, emerged: '2026-06-01' });
  const season = await does(store, 'record-mating-season', {
    place: 'Valley end',
    year: 2026,
    sources: [{ queen: m }],
    stood_from: '2026-06-01',
    stood_to: '2026-06-30',
    trusted: 'known',
  });
  await does(store, 'record-natural-mating', { queen: f, season, flew_from: '2026-06-10', drones: 1e9 });
  const d = await queen('D', { dam: f, emerged: '2026-08-01' });
  return { s, m, f, d, season, queen };
}

for (const { name, fresh, here } of databases)
  describe.skipIf(!here)(`a season of a mating place on ${name}`, () => {
    const stage = test.extend<{ store: Store }>({
      // biome-ignore lint/correctness/noEmptyPattern: Vitest reads the fixtures it needs from this pattern
      store: async ({}, use) => {
        const book = await fresh();
        await use(book.store);
        await book.end();
      },
    });

    stage('who stood there is corrected, and kinship follows as the textbook has it', async ({ store }) => {
      const { s, m, f, d, season } = await valley(store);
      const before = await laid(store);
      expect(broodInbreeding(before, f)).toBe(0);
      expect(relationship(before, d, m)).toBeCloseTo(0.5, 6);
      expect(relationship(before, d, s)).toBeCloseTo(0.25, 6);

      const sources = [{ queen: s }];
      const outlook = await asks<SeasonOutlook>(store, 'mating-season-outlook', { season, sources });
      await does(store, 'correct-mating-season', { season, sources });

      // F with drones of her own dam: brood inbreeding ¼; her daughter D is ¾ related to S (Falconer & Mackay 1996, backcross to a parent).
      const after = await laid(store);
      expect(broodInbreeding(after, f)).toBeCloseTo(0.25, 6);
      expect(relationship(after, d, s)).toBeCloseTo(0.75, 6);
      expect(relationship(after, d, m)).toBe(0);
      expect(outlook).toEqual({
        loops: false,
        flown: [
          {
            queen: f,
            name: 'F',
            brood: { now: 0, would: broodInbreeding(after, f) },
            sisters: { now: daughtersRelationship(before, f), would: daughtersRelationship(after, f) },
            daughters: 1,
          },
        ],
      });
      // The relationship of two daughters is that of the whole stock's list; from very many drones of one mother it is that of full sisters, ½.
      expect(daughtersRelationship(before, f)).toBeCloseTo(0.5, 6);
      expect(daughtersRelationship(after, f)).toBe(workersRelationships(after)[after.stock.names.queenIndex(f)]);
      expect(daughtersRelationship(after, m)).toBeNull();

      // And it steps back.
      await tryTo(store, 'step-back', { act: await lastAct(store) });
      expect(broodInbreeding(await laid(store), f)).toBe(0);
    });

    stage('what is said again stays one record; only what is otherwise is written', async ({ store }) => {
      const { s, m, season } = await valley(store);
      const read = async () => (await store.read('all', (facts) => facts.find('mating_season_source'))).answer;
      const [first] = await read();
      await does(store, 'correct-mating-season', { season, sources: [{ queen: s }, { queen: m }], trusted: null });
      expect((await read()).map(({ id, queen }) => [id === first?.id, queen])).toEqual([
        [true, m],
        [false, s],
      ]);
      expect((await seasonsOf(store))[0]).toMatchObject({ year: 2026, from: '2026-06-01', trusted: null, mothers: 2 });
    });

    stage('another name renames a place of this season alone, else moves the season there', async ({ store }) => {
      const { season } = await valley(store);
      await does(store, 'correct-mating-season', { season, place: 'Valley head', year: 2025 });
      expect((await seasonsOf(store)).map(({ place, year }) => [place, year])).toEqual([['Valley head', 2025]]);
      expect(await counted(store, 'mating_place')).toEqual([1]);
      // With a second season the place stays, and this season is at a new one.
      await does(store, 'record-mating-season', { place: 'Valley head', year: 2027, sources: [] });
      await does(store, 'correct-mating-season', { season, place: 'Moor' });
      expect((await seasonsOf(store)).map(({ place, year }) => [place, year])).toEqual([
        ['Valley head', 2027],
        ['Moor', 2025],
      ]);
      // Back to a place that is known: the empty one goes.
      await does(store, 'correct-mating-season', { season, place: 'Valley head' });
      expect(await counted(store, 'mating_place', 'mating_season')).toEqual([1, 2]);
      await tryTo(store, 'step-back', { act: await lastAct(store) });
      expect(await counted(store, 'mating_place', 'mating_season')).toEqual([2, 2]);
    });

    stage('is not corrected to what cannot be', async ({ store }) => {
      const { s, d, season } = await valley(store);
      const tries = (given: object) => tryTo(store, 'correct-mating-season', { season, ...given });
      expect(codes(await tries({ season: d }))).toEqual(['unknown-mating-season']);
      expect(codes(await tries({ sources: [{}] }))).toEqual(['queen-or-group']);
      expect(codes(await tries({ sources: [{ queen: s }, { queen: s }] }))).toEqual(['stood-twice']);
      expect(codes(await tries({ stood_from: '2026-07-01' }))).toEqual(['stood-backwards']);
      expect(codes(await tries({ sources: [{ queen: season }] }))).toEqual(['unknown-record']);
      // D is a daughter of F: had D stood there, D would descend from herself.
      expect(codes(await tries({ sources: [{ queen: d }] }))).toEqual(['descent-loop']);
      const outlook = await asks<SeasonOutlook>(store, 'mating-season-outlook', { season, sources: [{ queen: d }] });
      expect(outlook.loops).toBe(true);
      expect((await seasonsOf(store))[0]).toMatchObject({ mothers: 1, from: '2026-06-01' });
    });

    stage('days on which a queen flew and nothing stood there are said, not refused', async ({ store }) => {
      const { season } = await valley(store);
      const late = await tryTo(store, 'correct-mating-season', { season, stood_from: '2026-06-20' });
      expect(words(late)).toContain('F is written down as having flown there on 2026-06-10');
      const fits = await tryTo(store, 'correct-mating-season', { season, stood_from: '2026-06-10' });
      expect(words(fits)).toBe('');
    });

    stage('is taken back when nothing rests on it, with its place; both come back', async ({ store }) => {
      const { s } = await valley(store);
      const wrong = await does(store, 'record-mating-season', { place: 'Slip', year: 2026, sources: [{ queen: s }] });
      await does(store, 'take-back-mating-season', { season: wrong });
      expect(await counted(store, 'mating_place', 'mating_season', 'mating_season_source')).toEqual([1, 1, 1]);
      expect(codes(await tryTo(store, 'take-back-mating-season', { season: wrong }))).toEqual([
        'unknown-mating-season',
      ]);
      await tryTo(store, 'step-back', { act: await lastAct(store) });
      expect(await counted(store, 'mating_place', 'mating_season', 'mating_season_source')).toEqual([2, 2, 2]);
    });

    stage('is not taken back under the queens who flew there, unless they are to be open mated', async ({ store }) => {
      const { s, m, f, d, season, queen } = await valley(store);
      const refused = await tryTo(store, 'take-back-mating-season', { season });
      expect(codes(refused)).toEqual(['season-flown-to']);
      expect(words(refused)).toContain('F is written down as mated there');
      for (const code of ['F2', 'F3', 'F4', 'F5'])
        await does(store, 'record-natural-mating', { queen: await queen(code), season });
      expect(words(await tryTo(store, 'take-back-mating-season', { season }))).toContain(
        'F, F2, F3 and 2 more are written down as mated there',
      );
      expect(await counted(store, 'mating_season')).toEqual([1]);

      await does(store, 'take-back-mating-season', { season, flights_stay_open: true });
      expect(await counted(store, 'mating_season', 'mating_season_source', 'natural_mating')).toEqual([0, 0, 5]);
      const open = await laid(store);
      expect(relationship(open, d, m)).toBe(0);
      expect(relationship(open, d, s)).toBeCloseTo(0.25, 6);
      await tryTo(store, 'step-back', { act: await lastAct(store) });
      expect(relationship(await laid(store), d, m)).toBeCloseTo(0.5, 6);
      expect((await seasonsOf(store))[0]?.flown.map(({ id }) => id)).toContain(f);
    });
  });
