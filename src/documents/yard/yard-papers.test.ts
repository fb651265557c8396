import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ask } from '#questions/mechanism/ask.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does, portsOver } from '../../../tests/support/doing.ts';
import { after, type Twelve, twelveInseminated } from '../../../tests/support/inseminated.ts';
import { canReadPdf, codesIn, picturesOf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import type { Paper } from '../paper.ts';
import { labelAt, labelGrid, nucLabels } from './nuc-labels.ts';
import { roundSheet } from './round-sheet.ts';
import { springSheet } from './spring-sheet.ts';

let on: Fresh;
let the: Twelve;
beforeAll(async () => {
  on = await (databases[0] as (typeof databases)[0]).fresh();
  the = await twelveInseminated(on.store);
});
afterAll(() => on.end());

async function printed<I, F, A>(of: Paper<I, F, A>, input: unknown): Promise<Uint8Array> {
  const answered = await ask(of.question, input, portsOver(on.store));
  if ('problems' in answered) throw new Error(JSON.stringify(answered.problems));
  return of.draw(answered.answer);
}

it('24 labels of 63.5 × 33.9 mm stand on an A4, and the last ends inside it', () => {
  const last = labelAt(23);
  expect(last.x + labelGrid.width).toBeCloseTo(210 - labelGrid.left, 6);
  expect(last.y + labelGrid.height).toBeCloseTo(297 - labelGrid.top, 0);
});

describe.skipIf(!canReadPdf)('papers of the yard, read back by poppler and zxing', () => {
  it('the round sheet holds the nucs due in walking order, with their queens', async () => {
    const pdf = await printed(roundSheet, { today: after(7), yard: the.yard });
    expect(sheetOf(pdf)).toMatchObject({ pages: 1, tagged: true });
    const words = wordsOf(pdf).replace(/\s+/g, ' ');
    expect(words).toContain('Heath');
    expect(words.indexOf('N-12')).toBeLessThan(words.indexOf('N-11'));
    expect(words).toContain('27-001');
    expect(words).toContain('Day 7, cross B, look for eggs');
    const [page] = picturesOf(pdf, 300);
    expect(await codesIn(page ?? new Uint8Array())).toEqual([`R ${after(7)} N-12 N-01`]);
  });

  it('a yard name that looks like a tag is printed as words', async () => {
    const yard = await does(on.store, 'record-yard', { name: '<img onerror>' });
    const colony = await does(on.store, 'record-colony', { colony: { code: '<b>1', form: 'nuc' }, yard });
    await does(on.store, 'record-queen', { queen: { code: '27-099' }, stands: { colony } });
    const words = wordsOf(await printed(roundSheet, { today: after(7), yard })).replace(/\s+/g, ' ');
    expect(words).toContain('<img onerror>');
    expect(words).toContain('<b>1');
  });

  it('a nuc label carries its number as a code a reader takes', async () => {
    const pdf = await printed(nucLabels, { today: after(7), yard: the.yard, start: 17 });
    expect(sheetOf(pdf).pages).toBe(2);
    const pages = picturesOf(pdf, 300);
    const codes = (await Promise.all(pages.map((page) => codesIn(page)))).flat();
    expect([...codes].sort()).toEqual(Array.from({ length: 12 }, (_, n) => `N-${String(n + 1).padStart(2, '0')}`));
    expect(wordsOf(pdf)).toContain('27-012');
  });

  it('the spring sheet prints also when no cross names a queen', async () => {
    const pdf = await printed(springSheet, { today: after(7) });
    expect(wordsOf(pdf)).toContain('Spring check');
  });
});
