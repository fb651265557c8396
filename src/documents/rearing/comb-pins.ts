import { type CombPin, raisedTags } from '#questions/rearing/raised-tags.ts';
import type { Day } from '#units/calendar-day.ts';
import { dayParts } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';
import { drawTags, TAG_MODULE } from './tag-grid.ts';

const onDay = (day: Day) => dayParts(day).date;
const span = ({ from, to }: { from: Day; to: Day }) => (from === to ? onDay(from) : `${onDay(from)} – ${onDay(to)}`);

function drawPin(sheet: Sheet, pin: CombPin, { x, y }: { x: number; y: number }): void {
  const line = (words: string, top: number, bold = false) =>
    sheet.write(words, {
      x: x + 2.5,
      y: y + top,
      points: bold ? 11 : 9.5,
      face: bold ? 'bold' : 'regular',
      width: 44,
      lines: 1,
    });
  const cross = pin.cross === null ? '' : ` · ${say('cross.named', { code: pin.cross })}`;
  line(`${pin.code}${cross}`, 1, true);
  sheet.write(pin.mother === '' ? say('comb.mother-unknown') : pin.mother, {
    x: x + 2.5,
    y: y + 5.4,
    points: 9,
    face: 'mono',
    width: 44,
    lines: 1,
  });
  if (pin.laid !== null) line(say('tag.laid', { days: span(pin.laid) }), 9.4);
  if (pin.moveBy !== null && pin.out !== null)
    sheet.write(say('tag.move-by', { day: onDay(pin.moveBy), out: onDay(pin.out.from) }), {
      x: x + 2.5,
      y: y + 14.4,
      points: 10,
      face: 'bold',
      width: 55,
      lines: 1,
    });
  sheet.code(pin.code, { x: x + 46, y: y + 0.6, module: TAG_MODULE });
}

/** Pin cards for drone combs, 60 × 20 mm: the mother, when it was laid, when it must be behind the excluder. */
export const combPins = paper({
  name: 'comb-pins',
  form: 'application/pdf',
  question: raisedTags,
  fileName: () => 'comb-pins.pdf',
  draw: ({ combs }) =>
    drawSheet({ title: say('tag.combs'), size: sizes.a4, language: language() }, (sheet) => {
      if (combs.length === 0) sheet.write(say('tag.no-combs'), { x: 15, y: 20, width: 180 });
      drawTags(sheet, combs, (pin, at) => drawPin(sheet, pin, at));
    }),
});
