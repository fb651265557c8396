import type { Lane } from '#questions/rearing/lanes.ts';
import { addDays, type Day, daysBetween } from '#units/calendar-day.ts';
import type { Sheet } from '../sheet.ts';

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

/** One comb or bar through time: thin as brood, hatched while immature, solid at the best age, outlined while usable, dashed after. */
export function drawLaneBar(sheet: Sheet, { parts }: Lane, at: { y: number; height: number }, scale: DayScale): void {
  for (const { growth, from, to } of parts) {
    const x = scale.left(from);
    const box = { x, y: at.y, width: Math.min(scale.left(addDays(to, 1)), scale.end) - x, height: at.height };
    if (box.width <= 0) continue;
    const middle = at.y + at.height / 2;
    if (growth === 'brood') sheet.line([x, middle], [x + box.width, middle], { weight: 1 });
    else if (growth === 'ripe') sheet.shape(corners(box), { fill: 1, weight: 0.3 });
    else if (growth === 'fading') sheet.box(box, { weight: 0.3, dash: 1 });
    else sheet.box(box, { weight: 0.4 });
    if (growth === 'immature') hatch(sheet, box);
  }
}
