import { describe, expect, it } from 'vitest';
import { canReadPdf, codesIn, picturesOf, sheetOf, wordsOf } from '../../tests/support/printed.ts';
import { drawSheet, sizes } from './sheet.ts';

const draw = (words: string) =>
  drawSheet({ title: words, size: sizes.a6, language: 'en' }, (sheet) => {
    sheet.write(words, { x: 8, y: 8, width: 80, role: 'H1', points: 16, face: 'bold' });
    sheet.code('26CMB7K', { x: 60, y: 100, module: 0.5 });
    sheet.line([8, 40], [97, 40]);
    sheet.circle({ x: 20, y: 60, radius: 3 }, { fill: 0 });
  });

describe.skipIf(!canReadPdf)('a sheet, read back by poppler and zxing', () => {
  it('has its true size and is tagged', async () => {
    const sheet = sheetOf(await draw('Cross B'));
    expect(sheet.width).toBeCloseTo(105, 1);
    expect(sheet.height).toBeCloseTo(148, 1);
    expect(sheet).toMatchObject({ pages: 1, tagged: true });
  });

  it('prints Polish, Czech and German letters, and both micro signs with the one letter the face holds', async () => {
    const pdf = await draw('Łąka Žužek Čebelářka Größe 8 \u03bcl 9 \u00b5l');
    expect(wordsOf(pdf).replace(/\s+/g, ' ')).toContain('Łąka Žužek Čebelářka Größe 8 \u03bcl 9 \u03bcl');
  });

  it('keeps words as words, and leaves control characters out', async () => {
    const words = wordsOf(await draw('<img src=x onerror=alert(1)>\u0007\u001b[31m'));
    expect(words.replace(/\s+/g, ' ')).toContain('<img src=x onerror=alert(1)>[31m');
  });

  it('carries a QR symbol that another program reads at 300 dpi (ISO/IEC 18004)', async () => {
    const [page] = picturesOf(await draw('Cross B'), 300);
    expect(await codesIn(page ?? new Uint8Array())).toEqual(['26CMB7K']);
  });

  it('answers with the y below wrapped words', async () => {
    const ys: number[] = [];
    await drawSheet({ title: 't', size: sizes.a6, language: 'en' }, (sheet) => {
      ys.push(sheet.write('one line', { x: 8, y: 10, width: 80, points: 12 }));
      ys.push(sheet.write('many words '.repeat(20), { x: 8, y: 10, width: 80, points: 12 }));
      ys.push(sheet.write('many words '.repeat(20), { x: 8, y: 10, width: 80, points: 12, lines: 1 }));
    });
    expect(ys[0]).toBeGreaterThan(13);
    expect(ys[1]).toBeGreaterThan((ys[0] ?? 0) + 5);
    expect(ys[2]).toBeCloseTo(ys[0] ?? 0, 3);
  });
});
