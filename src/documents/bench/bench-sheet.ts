import { isUsable, type QueuedQueen, type SetOut, type SetOutCross, setOut } from '#questions/bench/set-out.ts';
import { dayWords } from '#words/day-words.ts';
import { language, say, type WordId } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

/** Queens on one sheet, and the diameter of a circle an elbow pen can hit, millimetres. */
const QUEENS = 12;
const CIRCLE = 12;
const ROW = 18;
const TOP = 46;
const LEFT = 10;

/** Where each column begins, millimetres from the left edge. */
const columns = { number: 10, queen: 17, cage: 58, nuc: 72, dose: 90, circles: 103, note: 179 } as const;
const STEP = 15;
const circles: readonly WordId[] = [
  'bench.paper.given',
  'bench.paper.leak',
  'bench.paper.other',
  'bench.paper.not-done',
  'bench.paper.back',
];

/** Keys as codes for a reader: letters only (see resolve-label.ts). */
const commands: readonly [string, WordId][] = [
  ['KEYT', 'bench.key.tip'],
  ['KEYC', 'bench.key.capillary'],
  ['KEY1', 'exception.leak'],
  ['KEYF', 'bench.key.flag'],
  ['KEYP', 'bench.key.pause'],
  ['KEYTAKEN', 'bench.stop.taken-away'],
  ['KEYHAPPENED', 'bench.stop.it-has-happened'],
];

const called = ({ face }: QueuedQueen): string => face.code ?? face.called ?? '–';

/** What the code of a sheet says: the day, the cross, the page. */
export const sheetCode = (day: string, cross: string, page: number): string => `S ${day} ${cross} ${page}`;

function head(
  sheet: Sheet,
  { day, operator, saline }: SetOut,
  cross: SetOutCross,
  at: { page: number; pages: number },
): void {
  const title = `${say('bench.paper.sheet')} · ${say('bench.cross')} ${cross.code}`;
  sheet.write(title, { x: LEFT, y: 10, points: 20, face: 'bold', role: 'H1', width: 150 });
  const words = [
    dayWords(day.day, day.day),
    day.place ?? '',
    operator ?? '',
    saline === null ? '' : `${say('bench.day.saline')} ${saline.code}`,
    `${cross.dose.toFixed(1)} µl`,
    cross.droneSide,
  ];
  sheet.write(words.filter(Boolean).join(' · '), { x: LEFT, y: 20, points: 11, width: 155 });
  sheet.write(say('bench.paper.how'), { x: LEFT, y: 26, points: 10, width: 155 });
  const tubes = cross.tubes.filter(isUsable).map(({ code, left }) => `${code} ${left.toFixed(1)} µl`);
  const below = [
    at.pages > 1 ? say('bench.paper.page', at) : '',
    tubes.length > 0 ? say('bench.paper.tubes', { tubes: tubes.join(', ') }) : '',
  ];
  sheet.write(below.filter(Boolean).join(' · '), { x: LEFT, y: 31, points: 10, width: 190, lines: 1 });
  sheet.code(sheetCode(day.day, cross.code, at.page), { x: 178, y: 4, module: 0.6 });
  const labels: [number, string, number][] = [
    [columns.queen, say('bench.paper.queen'), 40],
    [columns.cage, say('bench.paper.cage'), 14],
    [columns.nuc, say('bench.paper.nuc'), 18],
    [columns.dose, say('bench.paper.dose'), 12],
    [columns.note, say('bench.paper.note'), 22],
  ];
  for (const [x, label, width] of labels) sheet.write(label, { x, y: TOP - 9, points: 10, width });
  for (const [i, word] of circles.entries())
    sheet.write(say(word), {
      x: columns.circles + i * STEP - 1,
      y: TOP - 9,
      points: 10,
      width: STEP,
      align: 'center',
      lines: 2,
    });
  sheet.line([LEFT, TOP], [200, TOP], { weight: 0.6 });
}

function row(sheet: Sheet, queen: QueuedQueen | undefined, place: number, y: number, dose: number): void {
  sheet.write(String(place), { x: columns.number, y: y + 6, points: 11, width: 7 });
  if (queen !== undefined) {
    const year = queen.face.year === null ? '' : `’${String(queen.face.year).slice(-2)}`;
    const disc = queen.face.mark?.disc == null ? '' : ` ${queen.face.mark.disc}`;
    sheet.write(called(queen), { x: columns.queen, y: y + 3, points: 15, face: 'mono', width: 40, lines: 1 });
    sheet.write(`${year}${disc}`, { x: columns.queen, y: y + 10.5, points: 10, width: 40, lines: 1 });
    sheet.write(queen.cage ?? '', { x: columns.cage, y: y + 5, points: 14, face: 'bold', width: 14, lines: 1 });
    sheet.write(queen.home?.code ?? '', { x: columns.nuc, y: y + 6, points: 11, width: 18, lines: 2 });
    sheet.write(dose.toFixed(1), { x: columns.dose, y: y + 6, points: 11, width: 12 });
  }
  for (const i of circles.keys())
    sheet.circle({ x: columns.circles + i * STEP + STEP / 2 - 1, y: y + ROW / 2, radius: CIRCLE / 2 }, { weight: 0.4 });
  sheet.line([LEFT, y + ROW], [200, y + ROW], { weight: 0.2 });
}

function foot(sheet: Sheet): void {
  sheet.write(`${say('bench.paper.commands')}  ${say('bench.paper.gas')}`, { x: LEFT, y: 264, points: 10, width: 190 });
  for (const [i, [payload, word]] of commands.entries()) {
    const x = LEFT + i * 27;
    sheet.code(payload, { x, y: 267, module: 0.5 });
    sheet.write(say(word), { x: x + 1, y: 282, points: 9, width: 26, lines: 2 });
  }
}

function crossSheets(sheet: Sheet, of: SetOut, cross: SetOutCross, isFirst: boolean): void {
  const pages = Math.max(1, Math.ceil(cross.queue.length / QUEENS));
  for (let page = 1; page <= pages; page++) {
    if (!isFirst || page > 1) sheet.page();
    head(sheet, of, cross, { page, pages });
    for (let i = 0; i < QUEENS; i++) {
      const place = (page - 1) * QUEENS + i;
      row(sheet, cross.queue[place], place + 1, TOP + i * ROW, cross.dose);
    }
    foot(sheet);
  }
}

/** The bench sheet: twelve queens an A4, circles of 12 mm, to be entered again by exception. */
export const benchSheet = paper({
  name: 'bench-sheet',
  form: 'application/pdf',
  question: setOut,
  draw: ({ day }) =>
    drawSheet({ title: say('bench.paper.sheet'), size: sizes.a4, language: language() }, (sheet) => {
      if (day === null) return;
      const crosses = day.crosses.filter(({ queue }) => queue.length > 0);
      for (const [i, cross] of crosses.entries()) crossSheets(sheet, day, cross, i === 0);
      if (crosses.length === 0) sheet.write(say('bench.no-crosses'), { x: LEFT, y: 20, width: 180, points: 14 });
    }),
  fileName: ({ day }) => `bench-sheet-${day?.day.day ?? ''}.pdf`,
});
