import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { asks, type Station, station } from '../../../tests/support/bench-station.ts';
import { databases, type Fresh } from '../../../tests/support/databases.ts';
import { does } from '../../../tests/support/doing.ts';
import { canReadPdf, codesIn, picturesOf, sheetOf, wordsOf } from '../../../tests/support/printed.ts';
import type { BenchLabels } from '../../questions/bench/bench-labels.ts';
import type { BenchSummary } from '../../questions/bench/bench-summary.ts';
import type { SetOut } from '../../questions/bench/set-out.ts';
import { benchLabels, labelCode } from './bench-labels.ts';
import { benchSheet, sheetCode } from './bench-sheet.ts';
import { homeSlip } from './home-slip.ts';

let on: Fresh;
let st: Station;
beforeEach(async () => {
  on = (await databases[0]?.fresh()) as Fresh;
  st = await station(on.store, 14);
});
afterEach(() => on.end());

const setOut = () => asks<{ day: SetOut | null }>(on.store, 'set-out', { bench_day: st.day });

/** The first page as grey values, by an independent renderer (portable graymap: `P5 width height 255` and the bytes). */
function greyPage(pdf: Uint8Array, dpi: number): { width: number; grey: Uint8Array } {
  const folder = mkdtempSync(join(tmpdir(), 'combwright-grey-'));
  writeFileSync(join(folder, 'paper.pdf'), pdf);
  const args = [
    '-r',
    String(dpi),
    '-gray',
    '-f',
    '1',
    '-l',
    '1',
    '-singlefile',
    join(folder, 'paper.pdf'),
    join(folder, 'page'),
  ];
  execFileSync('pdftoppm', args);
  const bytes = new Uint8Array(readFileSync(join(folder, 'page.pgm')));
  rmSync(folder, { recursive: true, force: true });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(new TextDecoder('latin1').decode(bytes.slice(0, 40)));
  return { width: Number(head?.[1]), grey: bytes.slice(head?.[0].length ?? 0) };
}

/** Kept to be looked at. */
const looked = (name: string, pages: readonly Uint8Array[]) => {
  mkdirSync('.out', { recursive: true });
  for (const [i, page] of pages.entries()) writeFileSync(`.out/${name}-${i + 1}.png`, page);
};

describe.skipIf(!canReadPdf)('papers of the bench, read back by poppler and zxing', () => {
  it('the bench sheet: A4, twelve queens a page, its code and the keys readable at 300 dpi (ISO/IEC 18004)', async () => {
    const answer = await setOut();
    const pdf = await benchSheet.draw(answer);
    // Cross B has 14 queens (two sheets), cross A one.
    expect(sheetOf(pdf)).toMatchObject({ pages: 3, tagged: true });
    expect(sheetOf(pdf).width).toBeCloseTo(210, 0);
    const words = wordsOf(pdf);
    for (const code of ['27-001', '27-012', '27-014', 'sheet 2 of 2']) expect(words).toContain(code);
    const pages = picturesOf(pdf, 300);
    looked('bench-sheet', pages);
    const codes = await codesIn(pages[0] ?? new Uint8Array());
    expect(codes).toContain(sheetCode('2027-06-12', 'B', 1));
    expect(codes).toEqual(expect.arrayContaining(['KEYT', 'KEYC', 'KEY1', 'KEYF', 'KEYP', 'KEYTAKEN', 'KEYHAPPENED']));
  });

  it('a circle of the sheet is 12 mm across on the paper, to half a millimetre', async () => {
    const { width, grey } = greyPage(await benchSheet.draw(await setOut()), 300);
    const pixel = (millimetres: number) => Math.round((millimetres / 25.4) * 300);
    // Along the middle of the first row, from the middle of its first circle outwards.
    const row = pixel(55) * width;
    const middle = pixel(109.5);
    const edge = (step: 1 | -1) => {
      for (let x = middle; x > 0 && x < width; x += step) if ((grey[row + x] ?? 255) < 128) return x;
      return Number.NaN;
    };
    expect(((edge(1) - edge(-1)) / 300) * 25.4).toBeCloseTo(12, 0);
    expect(Math.abs(((edge(1) - edge(-1)) / 300) * 25.4 - 12)).toBeLessThan(0.5);
  });

  it('the home slip: cage and nuc side by side for every queen who was done', async () => {
    const dose = {
      bench_day: st.day,
      cross: st.crossB,
      queen: st.queens[2],
      draws: [{ tube: st.tubes[0], microlitres: 8 }],
    };
    await does(on.store, 'give-dose', { ...dose, exceptions: ['leak'] }, { happened: true });
    const answer = await asks<{ summary: BenchSummary | null }>(on.store, 'bench-summary', { bench_day: st.day });
    const pdf = await homeSlip.draw(answer);
    const pages = picturesOf(pdf, 100);
    looked('home-slip', pages);
    expect(wordsOf(pdf).replace(/\s+/g, ' ')).toMatch(/3 N3 27-003 leak/);
  });

  it.each(['cages', 'slots'] as const)(
    'labels for %s: every code of a full sheet is read back at 300 dpi (ISO/IEC 18004)',
    async (what) => {
      const answer = await asks<BenchLabels>(on.store, 'bench-labels', { what, from: 1, to: 115 });
      expect(answer.highest).toBe(what === 'cages' ? 91 : 0);
      const pdf = await benchLabels.draw(answer);
      expect(sheetOf(pdf)).toMatchObject({ pages: 2, tagged: true });
      const pages = picturesOf(pdf, 300);
      looked(`labels-${what}`, pages);
      const read = [await codesIn(pages[0] ?? new Uint8Array()), await codesIn(pages[1] ?? new Uint8Array())].flat();
      expect([...read].sort()).toEqual(Array.from({ length: 115 }, (_, i) => labelCode(what, i + 1)).sort());
      expect(wordsOf(pdf)).toMatch(/\b112\b/);
    },
  );

  it('an empty day prints a page that says so, an unknown one an empty page', async () => {
    const empty = await does(on.store, 'open-bench-day', { day: '2027-07-01' });
    const answer = await asks<{ day: SetOut | null }>(on.store, 'set-out', { bench_day: empty });
    expect(wordsOf(await benchSheet.draw(answer))).toContain('No cross has this day');
    expect(sheetOf(await benchSheet.draw({ day: null })).pages).toBe(1);
  });
});
