import { type BarTag, raisedTags } from '#questions/rearing/raised-tags.ts';
import { dayParts } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';
import { drawTags, TAG_MODULE } from './tag-grid.ts';

const onDay = (day: Parameters<typeof dayParts>[0]) => dayParts(day).date;

/** Dams with their places: "26-014 1–10, 26-020 11–20". */
const whose = ({ ranges }: BarTag): string => ranges.map(({ dam, from, to }) => `${dam} ${from}–${to}`).join(', ');

/** An arrow to the end the cells are counted from. */
function arrow(sheet: Sheet, x: number, y: number): void {
  sheet.shape(
    [
      [x, y + 1.2],
      [x + 2.4, y],
      [x + 2.4, y + 2.4],
    ],
    { fill: 1, weight: 0.1 },
  );
  sheet.write('1', { x: x + 3, y: y - 0.9, points: 10, face: 'bold', width: 6, lines: 1 });
}

function drawTag(sheet: Sheet, tag: BarTag, { x, y }: { x: number; y: number }): void {
  const cross = tag.cross === null ? '' : ` · ${say('cross.named', { code: tag.cross })}`;
  const left = x + 2.5;
  sheet.write(`${tag.code}${cross}`, { x: left, y: y + 0.8, points: 11, face: 'bold', width: 37, lines: 1 });
  sheet.write(whose(tag), { x: left, y: y + 5.4, points: 9, width: 42, lines: 2 });
  const bottom = { y: y + 14.6, lines: 1 };
  sheet.write(say('tag.cage-by', { day: onDay(tag.cageBy) }), {
    x: left,
    ...bottom,
    points: 11,
    face: 'bold',
    width: 32,
  });
  sheet.write(say('tag.grafted', { day: onDay(tag.grafted) }), {
    x: x + 33,
    ...bottom,
    points: 9,
    width: 25,
    align: 'right',
  });
  arrow(sheet, x + 40, y + 2);
  sheet.code(tag.code, { x: x + 46, y: y + 0.6, module: TAG_MODULE });
}

/** Tags for bars, 60 × 20 mm: whose larvae stand where, the day of the graft, the day they must be caged by. */
export const barTags = paper({
  name: 'bar-tags',
  form: 'application/pdf',
  question: raisedTags,
  fileName: () => 'bar-tags.pdf',
  draw: ({ bars }) =>
    drawSheet({ title: say('tag.bars'), size: sizes.a4, language: language() }, (sheet) => {
      if (bars.length === 0) sheet.write(say('tag.no-bars'), { x: 15, y: 20, width: 180 });
      drawTags(sheet, bars, (tag, at) => drawTag(sheet, tag, at));
    }),
});
