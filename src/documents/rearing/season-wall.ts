import type { Lane } from '#questions/rearing/lanes.ts';
import { type CrossOnWall, type SeasonWall, seasonWall } from '#questions/rearing/season-wall.ts';
import type { TaskLine } from '#questions/today/task-line.ts';
import { addDays, type Day, earlierOf, laterOf, weekday } from '#units/calendar-day.ts';
import { groupBy } from '#units/group-by.ts';
import { dayParts, dayWords, shortDay } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';
import { type DayScale, dayLine, dayScale, drawLaneBar, drawLegend, laneWords, todayLine } from './drawn-lane.ts';
import { besideTask, crossesOf } from './task-beside.ts';

const [WIDE, HIGH] = sizes.a3Wide;
const EDGE = 12;
/** Room for who each cross is, left of its lanes. */
const NAMES = 66;
const LANES = { left: EDGE + NAMES, width: WIDE - 2 * EDGE - NAMES };
const ROW = 6.8;

const tall = ({ lanes }: CrossOnWall) => Math.max(17, 4 + (lanes.drones.length + lanes.queens.length) * ROW);

/** Weeks along the top, each by its Monday. */
function drawWeeks(
  sheet: Sheet,
  { from, to, today }: SeasonWall,
  { top, bottom }: { top: number; bottom: number },
  scale: DayScale,
): void {
  for (let day = addDays(from, (8 - weekday(from)) % 7); day <= to; day = addDays(day, 7)) {
    const x = scale.left(day);
    sheet.line([x, top], [x, bottom], { weight: 0.12 });
    if (x < scale.end - 14) sheet.write(dayParts(day).date, { x: x + 0.8, y: top, points: 9, width: 18, lines: 1 });
  }
  if (today < from || today > to) return;
  const x = scale.left(today) + scale.perDay / 2;
  sheet.line([x, top], [x, bottom], todayLine);
}

function drawNames(sheet: Sheet, { code, day, queens, dams, drones }: CrossOnWall, y: number): void {
  const width = NAMES - 4;
  sheet.write(`${code}  ${shortDay(day)}`, { x: EDGE, y, width, points: 14, face: 'bold', lines: 1, role: 'H2' });
  sheet.write(`${say('rearing.queens', { n: queens })} · ${dams}`, { x: EDGE, y: y + 6, width, points: 9.5, lines: 1 });
  sheet.write(`× ${drones}`, { x: EDGE, y: y + 10.4, width, points: 9.5, lines: 1 });
}

const points = 8;

/** Whose a lane is, left of it where there is room, else behind its end, else above its brood; what has not begun is called planned. */
function writeLaneName(sheet: Sheet, { lane, side }: { lane: Lane; side: string }, y: number, scale: DayScale): void {
  const name = [side, lane.code, lane.who].filter((words) => words !== '').join(' · ');
  const words = laneWords(lane, name);
  const width = sheet.widthOf(words, { points }) + 0.5;
  const begun = scale.left(earlierOf(lane.parts[0]?.from ?? lane.ripe.from, lane.was?.begun ?? lane.ripe.from));
  const end = scale.left(addDays(laterOf(lane.parts.at(-1)?.to ?? lane.ripe.to, lane.was?.to ?? lane.ripe.to), 1));
  const write = (x: number, top: number, most: number) => {
    sheet.shape(
      [
        [x, top],
        [x + most, top],
        [x + most, top + 3.3],
        [x, top + 3.3],
      ],
      { fill: 0, weight: 0 },
    );
    sheet.write(words, { x, y: top, width: most, points, lines: 1 });
  };
  if (begun - LANES.left >= width + 2) write(begun - width - 2, y + 0.3, width);
  else if (scale.end - end >= width + 2) write(end + 2, y + 0.3, width);
  else write(begun, y - 1.7, Math.min(width, scale.left(lane.parts[1]?.from ?? lane.ripe.from) - begun));
}

function drawCross(sheet: Sheet, cross: CrossOnWall, y: number, scale: DayScale): number {
  const bottom = y + tall(cross);
  drawNames(sheet, cross, y + 1);
  const { drones, queens } = cross.lanes;
  for (const [n, lane] of [...drones, ...queens].entries()) {
    const top = y + 2 + n * ROW;
    drawLaneBar(sheet, lane, { y: top, height: 4 }, scale);
    writeLaneName(sheet, { lane, side: n < drones.length ? say('lanes.drones') : say('lanes.queens') }, top, scale);
  }
  const i = scale.left(cross.day) + scale.perDay / 2;
  sheet.line([i, y], [i, bottom], dayLine);
  sheet.line([EDGE, bottom], [WIDE - EDGE, bottom], { weight: 0.2 });
  return bottom;
}

const COLUMNS = 4;
const GUTTER = 6;
const COLUMN = (WIDE - 2 * EDGE - (COLUMNS - 1) * GUTTER) / COLUMNS;

const wordsOf = (task: TaskLine): string => {
  const said = taskWords(task);
  const last = task.from === task.to ? '' : ` (${say('wall.until', { day: dayParts(task.to).date })})`;
  const [whose, beside] = [crossesOf(task), besideTask(task)];
  return `${whose === '' ? '' : `${whose}: `}${said}${beside === '' ? '' : ` (${beside})`}${last}`;
};

/** Days and their tasks in columns, a ring before each to tick. */
function drawTasks(sheet: Sheet, tasks: readonly TaskLine[], start: number): void {
  let [column, top, y] = [0, start, start];
  const room = (height: number) => {
    if (y + height <= HIGH - EDGE) return;
    column += 1;
    if (column === COLUMNS) {
      sheet.page();
      [column, top] = [0, EDGE + 2];
    }
    y = top;
  };
  const x = () => EDGE + column * (COLUMN + GUTTER);
  const narrow = { width: COLUMN - 8, points: 9.5 };
  for (const [day, due] of groupBy(tasks, ({ from }) => from)) {
    const [first] = due;
    room(6 + (first === undefined ? 0 : sheet.heightOf(wordsOf(first), narrow)));
    y = sheet.write(dayWords(day as Day), { x: x(), y, width: COLUMN, points: 11, face: 'bold', lines: 1 }) + 0.8;
    for (const task of due) {
      room(sheet.heightOf(wordsOf(task), narrow));
      sheet.circle(
        { x: x() + 2.4, y: y + 2, radius: 1.7 },
        { weight: 0.35, ...(task.state === 'done' ? { fill: 1 } : {}) },
      );
      y = sheet.write(wordsOf(task), { x: x() + 7, y, ...narrow }) + 0.9;
    }
    y += 1.6;
  }
}

function drawHead(sheet: Sheet, wall: SeasonWall): void {
  sheet.write(say('wall.title'), { x: EDGE, y: 9, width: 200, points: 22, face: 'bold', role: 'H1', lines: 1 });
  const printed = say('door.printed', { day: dayWords(wall.today) });
  sheet.write(printed, { x: EDGE, y: 12, width: WIDE - 2 * EDGE, points: 10, align: 'right' });
}

/** The crosses as they fill one sheet after the other. */
function sheetsOf(crosses: readonly CrossOnWall[]): CrossOnWall[][] {
  const sheets: CrossOnWall[][] = [];
  let left = 0;
  for (const cross of crosses) {
    left -= tall(cross);
    if (sheets.length === 0 || left < 0) {
      left = HIGH - EDGE - (sheets.length === 0 ? 30 : EDGE + 6) - tall(cross);
      sheets.push([]);
    }
    sheets.at(-1)?.push(cross);
  }
  return sheets;
}

function drawWall(sheet: Sheet, wall: SeasonWall): void {
  drawHead(sheet, wall);
  if (wall.crosses.length === 0) return void sheet.write(say('rearing.no-crosses'), { x: EDGE, y: 24, width: 200 });
  drawLegend(sheet, { x: EDGE, y: 18.6 });
  const scale = dayScale(wall, LANES);
  let y = 30;
  for (const [n, crosses] of sheetsOf(wall.crosses).entries()) {
    if (n > 0) sheet.page();
    const top = n === 0 ? 24 : EDGE;
    y = top + 6;
    drawWeeks(sheet, wall, { top, bottom: crosses.reduce((sum, cross) => sum + tall(cross), y) }, scale);
    for (const cross of crosses) y = drawCross(sheet, cross, y, scale);
  }
  if (y > HIGH - 60) {
    sheet.page();
    y = EDGE - 4;
  }
  drawTasks(sheet, wall.tasks, y + 6);
}

/** The season for the wall, A3 landscape: every cross in lanes over one line of time, below it all tasks to tick, day by day. */
export const seasonWallSheet = paper({
  name: 'season-wall-sheet',
  form: 'application/pdf',
  question: seasonWall,
  fileName: () => 'season-wall.pdf',
  draw: (wall) =>
    drawSheet({ title: say('wall.title'), size: sizes.a3Wide, language: language() }, (sheet) => drawWall(sheet, wall)),
});
