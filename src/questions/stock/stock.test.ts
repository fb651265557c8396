import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { questions } from '#questions/registry.ts';
import type { Day } from '#units/calendar-day.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver, tryTo } from '../../../tests/support/doing.ts';
import { ask } from '../mechanism/ask.ts';
import type { KinshipGrid, KinshipOfTwo } from './kinship.ts';
import type { LineStanding } from './lines.ts';
import type { QueenLeaf } from './queen-leaf.ts';
import type { SisterGroup } from './sister-groups.ts';
import type { StockRow } from './stock-book.ts';

const today = '2027-06-12' as Day;
let on: Fresh;
beforeEach(async () => {
  const fresh = databases[0]?.fresh;
  if (fresh === undefined) throw new Error('no database');
  on = await fresh();
});
afterEach(() => on.end());

async function asks<A>(name: string, input: object): Promise<A> {
  const question = questions.get(name);
  if (question === undefined) throw new Error(`no question ${name}`);
  const answered = await ask(question, input, portsOver(on.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return answered.answer as A;
}
const writes = (entry: object): Promise<RecordId> => does(on.store, 'record-queen', entry);
const book = async () => (await asks<{ queens: StockRow[] }>('stock-book', { today })).queens;
const leafOf = async (queen: RecordId) => {
  const leaf = await asks<QueenLeaf | null>('queen-leaf', { queen, today });
  if (leaf === null) throw new Error('no leaf');
  return leaf;
};

describe('the stock book', () => {
  test('shows every queen with mark, dam, drones, place and how far she is', async () => {
    const m = await writes({ queen: { code: 'M-03', emerged: '2026-06-01' }, seen_on: '2027-05-01' });
    const dam = await writes({
      queen: { code: '26-014', emerged: '2026-06-10' },
      mark: { colour: 'white', disc: 14 },
      carries: { how: 'inseminated', on: '2026-06-20', drones: 8, parts: [{ queen: m }] },
    });
    await writes({ queen: { code: '27-001', emerged: '2027-06-04', dam } });
    const rows = await book();
    expect(rows.map(({ code, stage, droneMother, living }) => [code, stage, droneMother, living])).toEqual([
      ['M-03', 'not-known', true, 'alive'],
      ['26-014', 'laying', false, 'unknown'],
      ['27-001', 'virgin', false, 'alive'],
    ]);
    expect(rows[1]?.mark).toEqual({ colour: 'white', disc: 14, clip: null });
    expect(rows[1]?.droneSide?.parts).toEqual([
      { from: 'mother', queen: m, name: 'M-03', sisters: 1, share: 1, drones: 8 },
    ]);
    expect(rows[2]?.dam).toEqual({ id: dam, name: '26-014', guessed: false });
  });

  test('a queen nobody saw for a season is unknown, one with a fate gone, never simply alive', async () => {
    await writes({ queen: { code: 'old', emerged: '2025-06-01' } });
    await writes({
      queen: { code: 'sold', emerged: '2026-06-01' },
      fate: { kind: 'sold', happened_on: '2026-09-01' },
    });
    await writes({ queen: { code: 'undated', year: 2026 } });
    expect((await book()).map(({ code, living }) => [code, living])).toEqual([
      ['old', 'unknown'],
      ['sold', 'gone'],
      ['undated', 'unknown'],
    ]);
  });
});

describe('a queen’s leaf', () => {
  test('tells descent, sisters by the same drones, daughters and story in order', async () => {
    const m = await writes({ queen: { code: 'M' } });
    const dam = await writes({
      queen: { code: 'A', emerged: '2025-06-10' },
      carries: { how: 'inseminated', on: '2025-06-20', parts: [{ queen: m }] },
    });
    const one = await writes({ queen: { code: 'D1', dam, emerged: '2026-06-01' } });
    const other = await writes({ queen: { code: 'D2', dam, emerged: '2026-06-01' } });
    await does(on.store, 'record-fate', { queen: one, kind: 'lost', happened_on: '2026-10-01', cause: 'mice' });
    const leaf = await leafOf(one);
    expect(leaf.descent.dam?.name).toBe('A');
    expect(leaf.descent.drones?.mothers?.map(({ name }) => name)).toEqual(['M']);
    expect(leaf.sisters.map(({ face, full }) => [face.id, full])).toEqual([[other, true]]);
    expect(leaf.story.map(({ code }) => code)).toEqual(['emerged', 'fate']);
    expect(leaf.end).toEqual({ kind: 'lost', from: '2026-10-01', to: '2026-10-01', derived: false });
    expect((await leafOf(dam)).daughters.map(({ code }) => code)).toEqual(['D1', 'D2']);
    expect((await leafOf(dam)).story.map(({ code }) => code)).toEqual(['emerged', 'inseminated']);
  });

  test('one drone mother or another: guessed, named beside every number (odd record 1)', async () => {
    const [r7, r9] = [await writes({ queen: { code: 'R-07' } }), await writes({ queen: { code: 'R-09' } })];
    const dam = await writes({ queen: { code: '22-007' } });
    const her = await writes({ queen: { code: '24-031', dam } });
    const part = { alternative: 1 };
    await does(on.store, 'tell-mating', {
      queen: dam,
      carries: {
        how: 'inseminated',
        parts: [
          { queen: r7, share: 0.7, ...part },
          { queen: r9, share: 0.3, ...part },
        ],
      },
    });
    const leaf = await leafOf(her);
    expect(leaf.descent.drones?.side.oneOf).toBe(true);
    expect(leaf.inbreeding.assumptions.map(({ code }) => code)).toContain('one-of');
  });

  test('a bought queen with a seller’s word and a line of drones is usable, and says so (odd record 2)', async () => {
    const line = await does(on.store, 'found-line', { line: { name: 'T' } });
    const t1 = await writes({ queen: { code: 'T-1', line } });
    const k = await writes({ queen: { code: 'K-12' } });
    const her = await writes({
      queen: { code: 'B-1', dam: k, origin: 'bought', came_on: '2025-07-01' },
      carries: { how: 'seller', parts: [{ line }], said_by: 'a seller' },
    });
    const leaf = await leafOf(her);
    expect(leaf.row.droneSide?.parts.map((part) => part.from === 'mother' && part.queen)).toContain(t1);
    expect(leaf.story.map(({ code }) => code)).toEqual(['sellers-word', 'came']);
    expect(leaf.inbreeding.assumptions.length).toBeGreaterThan(0);
  });

  test('possible dams are readings with weights, replaced as a whole', async () => {
    const [a, b, c] = [
      await writes({ queen: { code: 'A' } }),
      await writes({ queen: { code: 'B' } }),
      await writes({ queen: { code: 'C' } }),
    ];
    const her = await writes({ queen: { code: 'X' } });
    await does(on.store, 'describe-queen', {
      queen: her,
      set: {},
      dams: [
        { dam: a, weight: 0.3 },
        { dam: b, weight: 0.7 },
      ],
    });
    expect((await leafOf(her)).row.dam).toEqual({ id: b, name: 'B', guessed: true });
    expect((await leafOf(her)).damReadings.map(({ weight }) => weight).sort()).toEqual([0.3, 0.7]);
    await does(on.store, 'describe-queen', { queen: her, set: { dam: c, dam_sure: 'known' }, dams: [] });
    expect((await leafOf(her)).row.dam).toEqual({ id: c, name: 'C', guessed: false });
    const { answer } = await on.store.read(['guess'], (facts) => facts.find('guess'));
    expect(answer).toEqual([]);
  });

  test('a queen lent out keeps her owner; the code she bore there stays findable (odd record 18)', async () => {
    const person = await does(on.store, 'record-person', { name: 'a neighbour' });
    const her = await writes({ queen: { code: '26-040' } });
    await does(on.store, 'lend-queen', { queen: her, lent_to: person, on: '2026-05-01' });
    expect((await leafOf(her)).lentTo).toBe('a neighbour');
    await does(on.store, 'return-queen', { queen: her, on: '2026-09-01', code_there: 'Z9' });
    const leaf = await leafOf(her);
    expect([leaf.lentTo, leaf.formerCodes]).toEqual([null, ['Z9']]);
    expect(leaf.story.map(({ code }) => code)).toEqual(['lent', 'bore-code', 'came-back']);
  });
});

describe('kinship on the leaf and in the grid', () => {
  test('mother and daughter are related one half; her brood by her own mother’s drones is inbred a quarter (textbook)', async () => {
    const mother = await writes({ queen: { code: 'M' }, carries: { how: 'open', drones: 12 } });
    const daughter = await writes({ queen: { code: 'D', dam: mother } });
    const two = await asks<KinshipOfTwo>('kinship-of-two', { a: daughter, b: mother });
    expect([two.relationship, two.coancestry, two.broodOfA]).toEqual([0.5, 0.25, 0.25]);
    expect(two.assumptions.map(({ code }) => code)).toContain('open-source');
    const grid = await asks<KinshipGrid>('kinship-grid', {
      across: [daughter],
      down: [mother, daughter],
      measure: 'queens',
    });
    expect(grid.cells).toEqual([[0.5], [1]]);
    const brood = await asks<KinshipGrid>('kinship-grid', { across: [daughter], down: [mother], measure: 'drones' });
    expect(brood.cells).toEqual([[0.25]]);
  });
});

describe('lines and sister groups', () => {
  test('a line counts its living queens', async () => {
    const founder = await writes({ queen: { code: 'S-1', emerged: '2027-06-01' } });
    const line = await does(on.store, 'found-line', { line: { name: 'S' }, founders: [founder] });
    await does(on.store, 'join-line', {
      queens: [await writes({ queen: { code: 'S-2', emerged: '2024-06-01' } })],
      line,
    });
    const { lines } = await asks<{ lines: LineStanding[] }>('lines', { today });
    expect(lines).toMatchObject([{ name: 'S', founders: ['S-1'], living: 1, unknown: 1, gone: 0 }]);
    expect(await tryTo(on.store, 'join-line', { queens: [line], line })).toMatchObject({
      problems: [{ code: 'unknown-record' }],
    });
  });

  test('twelve sister drone mothers, three of them in the book (odd record 8)', async () => {
    const dam = await writes({ queen: { code: 'S-44' } });
    const group = await does(on.store, 'record-sister-group', { code: 'Island 2026', dam, size: 12, year: 2025 });
    const known = [];
    for (const n of [1, 2, 3]) known.push(await writes({ queen: { code: `25-10${n}`, dam } }));
    await does(on.store, 'name-sisters', { queens: known, sister_group: group });
    const { groups } = await asks<{ groups: SisterGroup[] }>('sister-groups', { today });
    expect(groups).toMatchObject([{ code: 'Island 2026', size: 12, dam: { code: 'S-44' } }]);
    expect(groups[0]?.known).toHaveLength(3);
  });
});

describe('photos', () => {
  const hash = 'a'.repeat(64);
  const attach = (about: RecordId) => tryTo(on.store, 'attach-photo', { about_kind: 'queen', about, hash });

  test('are kept by their first bytes only: a drawing with a program in it is refused, whatever it is called', async () => {
    const her = await writes({ queen: { code: 'X' } });
    expect(await attach(her)).toMatchObject({ problems: [{ code: 'not-uploaded' }] });
    await on.store.keepBytes(hash, 'image/png', new TextEncoder().encode('<svg onload="alert(1)"/>'));
    expect(await attach(her)).toMatchObject({ problems: [{ code: 'not-a-photo' }] });
  });

  test('stand on the leaf of the record they are of', async () => {
    const her = await writes({ queen: { code: 'X' } });
    await on.store.keepBytes(hash, 'x', Uint8Array.from([0xff, 0xd8, 0xff, 0xe0]));
    expect('problems' in (await attach(her))).toBe(false);
    expect((await leafOf(her)).photos.map((photo) => photo.hash)).toEqual([hash]);
  });
});
