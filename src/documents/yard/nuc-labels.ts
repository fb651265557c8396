import { nucLabels as labelsOf } from '#questions/yard/nuc-labels.ts';
import type { Nuc } from '#questions/yard/yard-book.ts';
import { shortDay } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { drawMark } from '../drawn-mark.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

/** Three by eight labels of 63.5 × 33.9 mm on an A4, 2.5 mm apart across; margins follow from the sizes. */
export const labelGrid = { across: 3, down: 8, width: 63.5, height: 33.9, gap: 2.5, left: 7.25, top: 12.9 } as const;

/** Where the n-th label of a sheet begins (from 0), millimetres. */
export function labelAt(n: number): { x: number; y: number } {
  const { across, width, height, gap, left, top } = labelGrid;
  return { x: left + (n % across) * (width + gap), y: top + Math.floor(n / across) * height };
}

/** Side of one module of the code: whole printer dots at 300 dpi, millimetres. */
const MODULE = 0.339;

/** Nuc number large, queen, cross, insemination day, and a circle for each of the checks. */
function drawLabel(sheet: Sheet, { code, head, inseminated }: Nuc, { x, y }: { x: number; y: number }): void {
  sheet.write(code, { x: x + 3, y: y + 2.5, points: 28, face: 'bold', width: 44, lines: 1 });
  sheet.code(code, { x: x + 51, y: y + 1.5, module: MODULE });
  if (head !== null) {
    const disc = head.mark?.disc ?? null;
    if (head.year !== null) drawMark(sheet, { year: head.year, disc }, { x: x + 3, y: y + 15, side: 7 });
    const year = head.year === null ? '' : `’${String(head.year).slice(-2)}`;
    const called = head.code ?? head.called ?? '–';
    sheet.write(`${year} ${called}`, { x: x + 12, y: y + 15.5, points: 13, face: 'mono', width: 48, lines: 1 });
  }
  if (inseminated !== null) {
    const cross = inseminated.cross === null ? '' : `${say('round.cross', { cross: inseminated.cross })} · `;
    const words = `${cross}${say('label.inseminated', { day: shortDay(inseminated.on) })}`;
    sheet.write(words, { x: x + 3, y: y + 22.5, points: 10, width: 40, lines: 1 });
  }
  for (let n = 0; n < 4; n++) sheet.circle({ x: x + 40 + n * 6, y: y + 29.7, radius: 2.2 }, { weight: 0.3 });
  sheet.write(say('label.checks'), { x: x + 3, y: y + 27.5, points: 9, width: 30, lines: 1 });
}

/** Labels for nucs, from the first free label of a part-used sheet. */
export const nucLabels = paper({
  name: 'nuc-labels',
  form: 'application/pdf',
  question: labelsOf,
  draw: ({ nucs, start }) =>
    drawSheet({ title: say('yard.labels'), size: sizes.a4, language: language() }, (sheet) => {
      const many = labelGrid.across * labelGrid.down;
      for (const [n, nuc] of nucs.entries()) {
        const place = n + start - 1;
        if (place > 0 && place % many === 0) sheet.page();
        drawLabel(sheet, nuc, labelAt(place % many));
      }
    }),
  fileName: () => 'nuc-labels.pdf',
});
