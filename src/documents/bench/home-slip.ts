import { benchSummary, type DoneQueen } from '#questions/bench/bench-summary.ts';
import { dayWords } from '#words/day-words.ts';
import { language, say, sayAny } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

const LEFT = 12;
const ROW = 13;
const TOP = 40;
const BOTTOM = 280;

const called = ({ face }: DoneQueen): string => face.code ?? face.called ?? '–';

function row(sheet: Sheet, queen: DoneQueen, y: number): void {
  const { home, cage, exceptions } = queen;
  sheet.write(cage ?? '–', { x: LEFT, y: y + 2, points: 20, face: 'bold', width: 24, lines: 1 });
  sheet.line([LEFT + 26, y + 7], [LEFT + 40, y + 7], { weight: 0.5 });
  sheet.line([LEFT + 37, y + 5], [LEFT + 40, y + 7], { weight: 0.5 });
  sheet.line([LEFT + 37, y + 9], [LEFT + 40, y + 7], { weight: 0.5 });
  sheet.write(home?.code ?? '……………', { x: LEFT + 44, y: y + 2, points: 20, face: 'bold', width: 50, lines: 1 });
  sheet.write(called(queen), { x: LEFT + 98, y: y + 3, points: 14, face: 'mono', width: 40, lines: 1 });
  const words = exceptions.map(({ kind }) => sayAny(`exception.${kind}`)).join(', ');
  sheet.write(words, { x: LEFT + 140, y: y + 4, points: 11, width: 34, lines: 1 });
  sheet.circle({ x: 193, y: y + 6.5, radius: 4 }, { weight: 0.4 });
  sheet.line([LEFT, y + ROW], [200, y + ROW], { weight: 0.2 });
}

/** The home slip: which cage goes to which nuc, two codes to match, a circle to tick. */
export const homeSlip = paper({
  name: 'home-slip',
  form: 'application/pdf',
  question: benchSummary,
  draw: ({ summary }) =>
    drawSheet({ title: say('bench.paper.home'), size: sizes.a4, language: language() }, (sheet) => {
      if (summary === null) return;
      const day = dayWords(summary.day.day, summary.day.day);
      sheet.write(`${say('bench.paper.home')} · ${day}`, {
        x: LEFT,
        y: 12,
        points: 20,
        face: 'bold',
        role: 'H1',
        width: 180,
      });
      sheet.write(say('bench.paper.match'), { x: LEFT, y: 22, points: 12, width: 180 });
      for (const [x, word] of [
        [LEFT, 'bench.paper.cage'],
        [LEFT + 44, 'bench.paper.nuc'],
        [LEFT + 98, 'bench.paper.queen'],
      ] as const)
        sheet.write(say(word), { x, y: TOP - 7, points: 11, width: 40 });
      sheet.line([LEFT, TOP], [200, TOP], { weight: 0.6 });
      let y = TOP;
      for (const queen of summary.crosses.flatMap(({ queens }) => queens).filter(({ done }) => done !== false)) {
        if (y + ROW > BOTTOM) {
          sheet.page();
          y = 20;
        }
        row(sheet, queen, y);
        y += ROW;
      }
    }),
  fileName: ({ summary }) => `home-slip-${summary?.day.day ?? ''}.pdf`,
});
