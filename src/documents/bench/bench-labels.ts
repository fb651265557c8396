import { benchLabels as numbersOf } from '#questions/bench/bench-labels.ts';
import { language, say } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

/** Seven by sixteen labels of 27 × 17 mm on an A4, to be cut along thin lines. */
const grid = { across: 7, down: 16, width: 27, height: 17, left: 10.5, top: 12.5 } as const;
/** Side of one module of the code: whole printer dots at 300 dpi, millimetres. */
const MODULE = 0.423;

/** What the code of a cage or a slot says to the bench board (resolve-label.ts). */
export const labelCode = (what: 'cages' | 'slots', number: number): string =>
  `${what === 'cages' ? 'K' : 'T'}:${number}`;

function drawLabel(sheet: Sheet, what: 'cages' | 'slots', number: number, place: number): void {
  const x = grid.left + (place % grid.across) * grid.width;
  const y = grid.top + Math.floor(place / grid.across) * grid.height;
  sheet.box({ x, y, width: grid.width, height: grid.height }, { weight: 0.1, dash: 1 });
  sheet.code(labelCode(what, number), { x: x + 0.6, y: y + 2.3, module: MODULE });
  sheet.write(say(what === 'cages' ? 'bench.labels.a-cage' : 'bench.labels.a-slot'), {
    x: x + 13,
    y: y + 2,
    points: 9,
    width: 14,
    lines: 1,
  });
  sheet.write(String(number), {
    x: x + 12.6,
    y: y + 5.2,
    points: number > 999 ? 14 : number > 99 ? 18 : 22,
    face: 'bold',
    width: 14.4,
    lines: 1,
  });
}

/** Labels with a number and its code for cages and rack slots. */
export const benchLabels = paper({
  name: 'bench-labels',
  form: 'application/pdf',
  question: numbersOf,
  draw: ({ what, numbers }) =>
    drawSheet({ title: say('bench.labels'), size: sizes.a4, language: language() }, (sheet) => {
      const many = grid.across * grid.down;
      for (const [i, number] of numbers.entries()) {
        if (i > 0 && i % many === 0) sheet.page();
        if (i % many === 0) sheet.write(say(`bench.labels.${what}`), { x: grid.left, y: 5, points: 11, role: 'H1' });
        drawLabel(sheet, what, number, i % many);
      }
      if (numbers.length === 0) sheet.write(say('bench.labels.none'), { x: 12, y: 12, points: 12 });
    }),
  fileName: ({ what }) => `${what}-labels.pdf`,
});
