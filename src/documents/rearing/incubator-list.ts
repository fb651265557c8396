import { type BarTag, raisedTags } from '#questions/rearing/raised-tags.ts';
import { dayWords } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';

const LEFT = 15;
const [WIDE, HIGH] = sizes.a4;
const WIDTH = WIDE - 2 * LEFT;
/** Letters of the list: it is read on the door, from a step away. */
const POINTS = 18;

/** Day and what it means, side by side; answers with the y below. */
function drawDay(sheet: Sheet, what: string, day: string, at: { x: number; y: number; width: number }): number {
  sheet.write(what, { x: at.x, y: at.y, width: at.width, points: 11, lines: 1 });
  return sheet.write(day, { x: at.x, y: at.y + 5, width: at.width, points: POINTS, face: 'bold', lines: 1 });
}

const tall = ({ ranges }: BarTag) => 32 + ranges.length * 8;

function drawBar(sheet: Sheet, bar: BarTag, top: number): number {
  const cross = bar.cross === null ? '' : ` · ${say('cross.named', { code: bar.cross })}`;
  const many = say('door.cells', { n: bar.waiting ?? bar.cells });
  sheet.write(`${bar.code}${cross}`, {
    x: LEFT,
    y: top,
    width: WIDTH - 40,
    points: POINTS,
    face: 'bold',
    lines: 1,
    role: 'H2',
  });
  sheet.write(many, { x: LEFT, y: top, width: WIDTH, points: POINTS, align: 'right', lines: 1 });
  let y = top + 9;
  for (const { dam, from, to } of bar.ranges)
    y = sheet.write(`${from}–${to}  ${dam}`, {
      x: LEFT + 6,
      y,
      width: WIDTH - 6,
      points: POINTS,
      face: 'mono',
      lines: 1,
    });
  const third = WIDTH / 3;
  const day = (on: Parameters<typeof dayWords>[0]) => dayWords(on);
  drawDay(sheet, say('door.cage-by'), day(bar.cageBy), { x: LEFT, y: y + 2, width: third });
  drawDay(sheet, say('door.earliest'), day(bar.earliest), { x: LEFT + third, y: y + 2, width: third });
  const end = drawDay(sheet, say('door.emerges'), day(bar.emerges), { x: LEFT + 2 * third, y: y + 2, width: third });
  sheet.line([LEFT, end + 2], [LEFT + WIDTH, end + 2], { weight: 0.4 });
  return end + 6;
}

/** The list on the incubator door, in 18 point: whose cells, and when the first queen may be out. Earliest first. */
export const incubatorList = paper({
  name: 'incubator-list',
  form: 'application/pdf',
  question: raisedTags,
  fileName: () => 'incubator-door.pdf',
  draw: ({ bars, today }) =>
    drawSheet({ title: say('door.title'), size: sizes.a4, language: language() }, (sheet) => {
      sheet.write(say('door.title'), { x: LEFT, y: 14, width: WIDTH, points: 24, face: 'bold', role: 'H1', lines: 1 });
      sheet.write(say('door.printed', { day: dayWords(today) }), {
        x: LEFT,
        y: 17,
        width: WIDTH,
        points: 11,
        align: 'right',
      });
      let y = sheet.write(say('door.warn'), { x: LEFT, y: 27, width: WIDTH, points: 11 }) + 4;
      sheet.line([LEFT, y], [LEFT + WIDTH, y], { weight: 0.8 });
      y += 4;
      const waiting = bars.filter(({ waiting: cells }) => cells !== 0);
      if (waiting.length === 0) sheet.write(say('tag.no-bars'), { x: LEFT, y, width: WIDTH, points: POINTS });
      for (const bar of waiting) {
        if (y + tall(bar) > HIGH - 12) {
          sheet.page();
          y = 16;
        }
        y = drawBar(sheet, bar, y);
      }
    }),
});
