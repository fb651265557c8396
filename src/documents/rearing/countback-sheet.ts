import { type Countback, countback } from '#questions/rearing/countback.ts';
import { type Lane, type Lanes, lanesOf } from '#questions/rearing/lanes.ts';
import type { TaskLine } from '#questions/today/task-line.ts';
import { addDays, weekday } from '#units/calendar-day.ts';
import { dayParts, dayWords } from '#words/day-words.ts';
import { language, say } from '#words/say.ts';
import { taskWords } from '#words/task-words.ts';
import { paper } from '../paper.ts';
import { drawSheet, type Sheet, sizes } from '../sheet.ts';
import { type DayScale, dayScale, drawLaneBar, laneWords } from './drawn-lane.ts';
import { besideTask } from './task-beside.ts';

const LEFT = 12;
const [WIDE, HIGH] = sizes.a4Wide;
const WIDTH = WIDE - 2 * LEFT;
const LANE = 13;
const BAR = 6;

type Placed = { lane: Lane; side: string; y: number };

function drawLane(sheet: Sheet, { lane, side, y }: Placed, scale: DayScale): void {
  const name = [side, lane.code, lane.who].filter(Boolean).join(' · ');
  const words = laneWords(lane, name);
  sheet.write(words, { x: scale.left(lane.parts[0]?.from ?? lane.ripe.from), y, points: 9, width: 90, lines: 1 });
  drawLaneBar(sheet, lane, { y: y + 5, height: BAR }, scale);
}

function drawLanes(sheet: Sheet, lanes: Lanes, top: number): number {
  const scale = dayScale(lanes, { left: LEFT, width: WIDTH });
  const queensTop = top + 7 + lanes.drones.length * LANE;
  const bottom = queensTop + 1 + lanes.queens.length * LANE;
  const monday = addDays(lanes.from, (8 - weekday(lanes.from)) % 7);
  for (let day = monday; day <= lanes.to; day = addDays(day, 7)) {
    const x = scale.left(day);
    sheet.line([x, top], [x, bottom], { weight: 0.1 });
    if (x < WIDE - LEFT - 12) sheet.write(dayParts(day).date, { x: x + 0.8, y: top, points: 8, width: 16, lines: 1 });
  }
  const i = scale.left(lanes.insemination) + scale.perDay / 2;
  sheet.line([i, top - 5], [i, bottom], { weight: 0.9 });
  sheet.write(say('lanes.i', { day: dayWords(lanes.insemination) }), {
    x: i + 1.2,
    y: top - 5.4,
    points: 9,
    face: 'bold',
    width: 40,
  });
  for (const [n, lane] of lanes.drones.entries())
    drawLane(sheet, { lane, side: say('lanes.drones'), y: top + 5 + n * LANE }, scale);
  for (const [n, lane] of lanes.queens.entries())
    drawLane(sheet, { lane, side: say('lanes.queens'), y: queensTop + n * LANE }, scale);
  return bottom + 4;
}

/** The sign of a task on paper: a ring to tick, a filled one when it is done. */
function sign(sheet: Sheet, task: TaskLine, x: number, y: number): void {
  const done = task.state === 'done';
  sheet.circle({ x, y, radius: 1.9 }, { weight: 0.4, ...(done ? { fill: 1 } : {}) });
}

const spanOf = ({ from, to }: TaskLine): string =>
  from === to ? dayWords(from, from) : say('day.span', { from: dayWords(from, from), to: dayWords(to, to) });

const COLUMNS = 2;
const GUTTER = 8;
const COLUMN = (WIDTH - (COLUMNS - 1) * GUTTER) / COLUMNS;
const WHEN = 40;

/** One task; answers with the y below it. */
function drawTask(sheet: Sheet, task: TaskLine, at: { x: number; y: number }): number {
  sign(sheet, task, at.x + 2, at.y + 2.4);
  sheet.write(spanOf(task), { x: at.x + 6, y: at.y, width: WHEN - 2, points: 10, face: 'bold' });
  const beside = besideTask(task);
  const who = beside === '' ? '' : ` (${beside})`;
  const words = { x: at.x + 6 + WHEN, y: at.y, width: COLUMN - 6 - WHEN, points: 10 };
  const high = Math.max(
    sheet.heightOf(taskWords(task) + who, words),
    sheet.heightOf(spanOf(task), { width: WHEN - 2, points: 10, face: 'bold' }),
  );
  sheet.write(taskWords(task) + who, words);
  return at.y + high + 1.6;
}

function drawTasks(sheet: Sheet, tasks: readonly TaskLine[], top: number): void {
  let [x, y, column, start] = [LEFT, top, 0, top];
  for (const task of tasks.filter(({ state }) => state !== 'cancelled')) {
    const tall = sheet.heightOf(taskWords(task), { width: COLUMN - 6 - WHEN, points: 10 }) + 4;
    if (y + tall > HIGH - 10) {
      column += 1;
      if (column === COLUMNS) {
        sheet.page();
        [column, start] = [0, 14];
      }
      [x, y] = [LEFT + column * (COLUMN + GUTTER), start];
    }
    y = drawTask(sheet, task, { x, y });
  }
}

function drawCountback(sheet: Sheet, answer: Countback): void {
  const { cross, wish, tasks, raising } = answer;
  sheet.write(say('cross.title', { code: cross.code }), {
    x: LEFT,
    y: 10,
    points: 22,
    face: 'bold',
    role: 'H1',
    width: 120,
    lines: 1,
  });
  const day = cross.inseminate_on === null ? say('cross.no-day') : dayWords(cross.inseminate_on);
  const beside = `${day} · ${say('cross.wanted', { n: cross.queens_wanted, dose: cross.dose_ul })}`;
  sheet.write(beside, { x: LEFT, y: 13, width: WIDTH, points: 12, align: 'right' });
  const below = wish === null ? 26 : drawLanes(sheet, lanesOf(wish, raising), 30);
  sheet.line([LEFT, below], [LEFT + WIDTH, below], { weight: 0.5 });
  drawTasks(sheet, tasks, below + 3);
}

/** The countback on paper, A4 landscape: lanes above, tasks to tick below. */
export const countbackSheet = paper({
  name: 'countback-sheet',
  form: 'application/pdf',
  question: countback,
  fileName: (answer) => `countback-${answer?.cross.code ?? 'unknown'}.pdf`,
  draw: (answer) =>
    drawSheet(
      { title: say('cross.title', { code: answer?.cross.code ?? '' }), size: sizes.a4Wide, language: language() },
      (sheet) => {
        if (answer === null) sheet.write(say('cross.unknown'), { x: LEFT, y: 12, width: WIDTH });
        else drawCountback(sheet, answer);
      },
    ),
});
