import { mkdirSync, writeFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import type { RecordId } from '#units/record-id.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { canReadPdf, codesIn, picturesOf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import { queenCard } from './queen-card.ts';

let fresh: Fresh;
beforeEach(async () => {
  const [sqlite] = databases;
  if (sqlite === undefined) throw new Error('no SQLite');
  fresh = await sqlite.fresh();
  return () => fresh.end();
});

const queen = (code: string, more: object = {}, about: object = {}) =>
  does(fresh.store, 'record-queen', { queen: { code, emerged: '2026-06-10', ...about }, ...more });

async function card(id: RecordId): Promise<Uint8Array> {
  const answered = await ask(queenCard.question, { queen: id, today: '2027-06-12' }, portsOver(fresh.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return queenCard.draw(answered.answer);
}
const plain = (pdf: Uint8Array) => wordsOf(pdf).replace(/\s+/g, ' ');

async function family(note = 'calm on the comb'): Promise<RecordId> {
  const mothers = [
    await queen('M-03', {}, { emerged: '2024-06-01' }),
    await queen('N-07', {}, { emerged: '2024-06-01' }),
  ];
  const parts = [
    { queen: mothers[0], share: 0.6 },
    { queen: mothers[1], share: 0.4 },
  ];
  const grand = await queen('24-002', { carries: { how: 'open' } }, { emerged: '2024-06-02' });
  const dam = await queen(
    '25-003',
    { carries: { how: 'inseminated', on: '2025-06-20', parts } },
    { emerged: '2025-06-10', dam: grand },
  );
  return queen('26-014', { mark: { colour: 'white', disc: 14 }, note }, { dam });
}

describe.skipIf(!canReadPdf)('the queen card, read back by poppler and a code reader', () => {
  it('is one A6 page with her mark, dam, drones as a group, story and square code', async () => {
    const pdf = await card(await family());
    mkdirSync('.out/papers', { recursive: true });
    for (const png of picturesOf(pdf, 150)) writeFileSync('.out/papers/queen-card.png', png);
    expect(sheetOf(pdf)).toMatchObject({ pages: 1, tagged: true });
    expect(sheetOf(pdf).width).toBeCloseTo(105, 0);
    expect(sheetOf(pdf).height).toBeCloseTo(148, 0);
    const words = plain(pdf);
    for (const said of [
      '26-014',
      '10 Jun 2026',
      '25-003',
      '24-002',
      'sons of M-03 60% and N-07 40%',
      'emerged',
      'calm on the comb',
    ])
      expect(words).toContain(said);
    const [first] = picturesOf(pdf, 200);
    expect(first && (await codesIn(first))).toEqual(['26-014']);
  });

  it('stays one page and inert whatever is written on it, also for a queen of whom nothing is known', async () => {
    const pdf = await card(await family(`<img src=x onerror=alert(1)> ${'long '.repeat(400)}`));
    expect(sheetOf(pdf).pages).toBe(1);
    expect(plain(pdf)).toContain('<img src=x onerror=alert(1)>');
    const bare = await card(await does(fresh.store, 'record-queen', { queen: {} }));
    expect(plain(bare)).toContain('no code yet');
  });
});
