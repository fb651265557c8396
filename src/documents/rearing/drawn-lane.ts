import type { Growth, Lane } from '#questions/rearing/lanes.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import { say, sayAny } from '#words/say.ts';
import type { Sheet, Stroke } from '../sheet.ts';

/** Days along a sheet: millimetres a day, and where a day begins. */
export type DayScale = { perDay: number; left: (day: Day) => number; end: number };

/** A line of time from one day to another, between two edges in millimetres. */
export function dayScale(days: { from: Day; to: Day }, edges: { left: number; width: number }): DayScale {
  const perDay = edges.width / (daysBetween(days.from, days.to) + 1);
  return { perDay, left: (day) => edges.left + daysBetween(days.from, day) * perDay, end: edges.left + edges.width };
}

type Box = { x: number; y: number; width: number; height: number };

function hatch(sheet: Sheet, at: Box): void {
  for (let x = at.x; x < at.x + at.width; x += 1.6) {
    const end = Math.min(at.x + at.width, x + at.height);
    sheet.line([x, at.y + at.height], [end, at.y + at.height - (end - x)], { weight: 0.25 });
  }
}

const corners = ({ x, y, width, height }: Box) =>
  [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ] as const;

type At = { y: number; height: number };

/** Where the plan had what was raised otherwise: its best days outlined, dashed, and a thin line from when it was to begin. */
function drawOldPlan(sheet: Sheet, was: NonNullable<Lane['was']>, at: At, scale: DayScale): void {
  const x = scale.left(was.from);
  const width = Math.min(scale.left(addDays(was.to, 1)), scale.end) - x;
  const middle = at.y + at.height / 2;
  sheet.line([scale.left(was.begun), middle], [x, middle], { weight: 0.25, dash: 0.8 });
  if (width > 0) sheet.box({ x, y: at.y - 1, width, height: at.height + 2 }, { weight: 0.4, dash: 0.8 });
}

type Part = Lane['parts'][number];

function drawPart(sheet: Sheet, { growth, from, to }: Part, at: At, scale: DayScale): void {
  const x = scale.left(from);
  const box = { x, y: at.y, width: Math.min(scale.left(addDays(to, 1)), scale.end) - x, height: at.height };
  if (box.width <= 0) return;
  const middle = at.y + at.height / 2;
  if (growth === 'brood') sheet.line([x, middle], [x + box.width, middle], { weight: 1 });
  else if (growth === 'ripe') sheet.shape(corners(box), { fill: 1, weight: 0.3 });
  else if (growth === 'fading') sheet.box(box, { weight: 0.3, dash: 1 });
  else sheet.box(box, { weight: 0.4 });
  if (growth === 'immature') hatch(sheet, box);
}

/**
 * One comb or bar through time: thin as brood, hatched while immature, solid at the best age, outlined while usable, dashed after. Around it, dashed, where
 * the plan had it, when it became otherwise.
 */
export function drawLaneBar(sheet: Sheet, { parts, was }: Pick<Lane, 'parts' | 'was'>, at: At, scale: DayScale): void {
  for (const part of parts) drawPart(sheet, part, at, scale);
  if (was !== null) drawOldPlan(sheet, was, at, scale);
}

/** A lane by name; what is not known to have begun is planned, or late. */
export function laneWords({ id, late }: Lane, who: string): string {
  if (id !== null) return who;
  return late > 0 ? say('lanes.late', { who, n: late }) : say('lanes.planned', { who });
}

/** The line of an insemination day, and of today. */
export const dayLine: Stroke = { weight: 0.9 };
export const todayLine: Stroke = { weight: 0.4, dash: 0.8 };

const SAMPLE = 9;
const growths: readonly Growth[] = ['brood', 'immature', 'ripe', 'second', 'fading'];

/** What the strokes of lanes and the lines across them mean, in one line from a left edge. */
export function drawLegend(sheet: Sheet, at: { x: number; y: number }): void {
  const [day, next] = ['2001-01-01' as Day, '2001-01-02' as Day];
  const box = { y: at.y, height: 3.6 };
  let { x } = at;
  const sample = (words: string, width: number, draw: (left: number) => void) => {
    draw(x);
    sheet.write(words, { x: x + width + 1.5, y: at.y - 0.2, points: 9, width: 60, lines: 1 });
    x += width + 1.5 + sheet.widthOf(words, { points: 9 }) + 6;
  };
  const halves = (left: number): DayScale => {
    const perDay = SAMPLE / 2;
    return { perDay, left: (on) => left + daysBetween(day, on) * perDay, end: left + SAMPLE };
  };
  const upright = (stroke: Stroke) => (left: number) => sheet.line([left, at.y], [left, at.y + box.height], stroke);
  for (const growth of growths)
    sample(sayAny(`growth.${growth}`), SAMPLE, (left) =>
      drawPart(sheet, { growth, from: day, to: next }, box, halves(left)),
    );
  sample(say('wall.was'), SAMPLE, (left) =>
    drawOldPlan(sheet, { begun: day, from: next, to: next }, box, halves(left)),
  );
  sample(say('wall.day'), 0.9, upright(dayLine));
  sample(say('lanes.today'), 0.9, upright(todayLine));
}
